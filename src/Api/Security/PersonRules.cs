using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>What may be said of a person, and who may change whom.</summary>
internal static class PersonRules
{
    /// <summary>Holds somebody new against the rules.</summary>
    public static void New(NewPerson person)
    {
        if (!Codes.IsValid(person.Login))
        {
            throw new PersonRefusedException(
                "login", "text", "A login has 1 to 64 printable characters and no space at either end.", "An e-mail address, or any word.");
        }

        Named(person.Name);
        Fits(person.Abilities, person.Scope);
    }

    /// <summary>Holds a change against the rules: nobody gives, or takes away, what he may not do himself.</summary>
    public static void Change(Person before, Person after, Abilities by)
    {
        Named(after.Name);
        Fits(after.Abilities, after.Scope);
        Within(before.Abilities | after.Abilities, by);
    }

    /// <summary>Nobody hands on more than he may do himself.</summary>
    public static void Within(Abilities abilities, Abilities by)
    {
        if ((abilities & ~by) is not Abilities.None and var more)
        {
            throw new PersonRefusedException(
                "abilities", "beyond_own", $"You may not {string.Join(" or ", AbilityRules.Words(more))} yourself, so you cannot let others, or change who may.",
                "Ask somebody who may.");
        }
    }

    /// <summary>Abilities and scope have to go together.</summary>
    public static void Fits(Abilities abilities, Scope scope)
    {
        if (abilities == Abilities.None)
        {
            throw new PersonRefusedException("abilities", "required", "Somebody who may do nothing needs no way in.", "Give at least one ability.");
        }

        if (!AbilityRules.Fit(abilities, scope))
        {
            throw new PersonRefusedException("scope", "whole_fleet", AbilityRules.WholeFleetOnly, "Take these abilities away, or give the scope everything.");
        }
    }

    private static void Named(string name)
    {
        if (!Person.IsName(name))
        {
            throw new PersonRefusedException("name", "text", "A name has 1 to 200 printable characters and no space at either end.", "Write the name as pages shall show it.");
        }
    }
}

/// <summary>That somebody is always left who can let others in.</summary>
internal static class Administrators
{
    /// <summary>Refuses a change that leaves no administrator: a person who may sign in, or a good key.</summary>
    public static async Task EnsureOneAsync(WriteSession session, CancellationToken cancellationToken)
    {
        bool byPerson = (await PersonQueries.AllAsync(session, cancellationToken)).Select(Person.Read)
            .Any(person => person.DisabledAt is null && person.HasPassword && IsAdministrator(person.Abilities, person.Scope));
        if (!byPerson && !(await KeyQueries.GoodAsync(session, cancellationToken)).Any(key => IsAdministrator(key.Abilities, key.Scope)))
        {
            throw new PersonRefusedException(
                "abilities", "last_administrator", "Nobody would be left who may administer.", "Let somebody else, or a key, administer first.");
        }
    }

    private static bool IsAdministrator(Abilities abilities, Scope scope) =>
        abilities.HasFlag(Abilities.Administer) && scope.Kind == ScopeKind.Everything;
}
