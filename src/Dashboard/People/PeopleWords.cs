using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.People;

/// <summary>Abilities and scopes in plain words.</summary>
public static class PeopleWords
{
    /// <summary>Kinds of scope, the widest first.</summary>
    public static IReadOnlyList<string> Scopes { get; } = ["everything", "operators", "sites", "units"];

    /// <summary>What an ability lets somebody do.</summary>
    /// <param name="ability">The ability's word.</param>
    public static string Ability(string ability) => PeopleTexts.Now.Abilities.GetValueOrDefault(ability, ability);

    /// <summary>Abilities in a word each.</summary>
    /// <param name="abilities">The abilities' words.</param>
    public static string Abilities(IEnumerable<string> abilities) =>
        string.Join(", ", abilities.Select(ability => PeopleTexts.Now.AbilitiesShort.GetValueOrDefault(ability, ability)));

    /// <summary>Which part of the fleet is seen.</summary>
    /// <param name="scope">The part.</param>
    public static string Scope(ScopeEntry scope)
    {
        ArgumentNullException.ThrowIfNull(scope);
        return Fill.In(PeopleTexts.Now.Scopes.GetValueOrDefault(scope.Kind, scope.Kind), ("codes", string.Join(", ", scope.Codes ?? [])));
    }

    /// <summary>State of a person in a few words.</summary>
    /// <param name="person">The person.</param>
    public static string State(PersonEntry person)
    {
        ArgumentNullException.ThrowIfNull(person);
        return PeopleTexts.Now.States[person switch
        {
            { DisabledAt: not null } => "may_not_sign_in",
            { HasPassword: false } => "no_password",
            _ => "may_sign_in",
        }];
    }
}
