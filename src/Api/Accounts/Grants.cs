using System.Security.Claims;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.People;

namespace Washwear.Api.Accounts;

/// <summary>What somebody or a key is allowed, as bodies and forms say it.</summary>
/// <param name="Abilities">Abilities together.</param>
/// <param name="Scope">Which part of the fleet is seen.</param>
internal sealed record Grant(Abilities Abilities, Scope Scope)
{
    /// <summary>Reads abilities and scope by their words.</summary>
    /// <param name="abilities">read, ingest, work, plan, manage, administer.</param>
    /// <param name="scope">Kind and codes; null: everything.</param>
    /// <param name="registry">Holds the codes that there are.</param>
    /// <exception cref="PersonRefusedException">A word or a code is not known.</exception>
    public static Grant Read(IEnumerable<string> abilities, ScopeEntry? scope, RegistrySnapshot registry)
    {
        string text = string.Join(' ', abilities);
        Abilities found = Abilities.None;
        if (text.Length > 0 && !AbilityRules.TryParse(text, out found))
        {
            throw new PersonRefusedException(
                "abilities", "choice", $"'{text}' has a word that is no ability.", $"Give some of: {string.Join(", ", AbilityRules.Words(Abilities.All))}.");
        }

        Scope read = ScopeOf(scope ?? new ScopeEntry("everything"));
        return Unknown(read, registry) is { } unknown ? throw unknown : new Grant(found, read);
    }

    /// <summary>Why a scope may not be given: one of its codes is not in the registry, so that it would silently show nothing of it.</summary>
    /// <param name="scope">The scope.</param>
    /// <param name="registry">Holds the codes that there are.</param>
    /// <returns>The refusal, with the code that may have been meant; null: all are known.</returns>
    public static PersonRefusedException? Unknown(Scope scope, RegistrySnapshot registry)
    {
        IReadOnlyCollection<string> known = CodesOf(scope.Kind, registry);
        var nearest = new NearestCode();
        string[] unknown = [.. scope.Codes.Except(known, StringComparer.OrdinalIgnoreCase)];
        string[] meant = [.. unknown.Select(code => nearest.To(code, known)).OfType<string>().Distinct().Select(code => $"'{code}'")];
        return unknown.Length == 0 ? null : new PersonRefusedException(
            "scope.codes",
            "known",
            $"There is none of the {Json.Name(scope.Kind.ToString())} with the code '{unknown[0]}'{(unknown.Length == 1 ? "." : ", nor with " + string.Join(", ", unknown[1..].Select(code => $"'{code}'")) + ".")}",
            meant.Length == 0 ? "Register it first, or mend the code." : $"Did you mean {string.Join(", ", meant)}? If not, register it first.");
    }

    /// <summary>The codes that a kind of scope can name.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="registry">Holds them.</param>
    public static IReadOnlyCollection<string> CodesOf(ScopeKind kind, RegistrySnapshot registry) => kind switch
    {
        ScopeKind.Operators => [.. registry.Operators.Values.Select(entry => entry.Resource.Operator)],
        ScopeKind.Sites => [.. registry.Sites.Values.Select(entry => entry.Resource.Site)],
        ScopeKind.Units => [.. registry.UnitList.Select(entry => entry.Resource.Unit)],
        _ => [],
    };

    /// <summary>Reads the fields of a form.</summary>
    /// <param name="form">The form.</param>
    /// <param name="registry">Holds the codes that there are.</param>
    /// <exception cref="PersonRefusedException">A word or a code is not known.</exception>
    public static Grant Read(IFormCollection form, RegistrySnapshot registry)
    {
        string kind = form["scope"].ToString();
        string[] codes = form["codes"].ToString().Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

        // Codes beside 'everything' are a slip that would show everybody's kitchens: they are passed on, and refused.
        return Read(
            form["can"].OfType<string>(),
            kind.Length == 0 ? null : new ScopeEntry(kind, codes.Length == 0 && kind == "everything" ? null : codes),
            registry);
    }

    /// <summary>What a form says, as it was typed.</summary>
    /// <param name="form">The form.</param>
    /// <param name="name">The field of the name.</param>
    public static GrantTyped Typed(IFormCollection form, string name) => new(
        form[name].ToString(),
        [.. form["can"].OfType<string>()],
        new ScopeEntry(form["scope"].ToString(), [form["codes"].ToString()]),
        form["disabled"] == "yes");

    /// <summary>What a caller may do.</summary>
    /// <param name="caller">The caller.</param>
    public static Abilities Of(ClaimsPrincipal caller) =>
        Enum.GetValues<Abilities>().Where(ability => AbilityRules.Words(ability).Count() == 1 && caller.May(ability))
            .Aggregate(Abilities.None, (all, ability) => all | ability);

    /// <summary>A scope as answers show it.</summary>
    /// <param name="scope">The scope.</param>
    public static ScopeEntry Entry(Scope scope) => new(Json.Name(scope.Kind.ToString()), scope.Kind == ScopeKind.Everything ? null : scope.Codes);

    /// <summary>A refusal as an answer.</summary>
    /// <param name="refused">The refusal.</param>
    public static ProblemResult Problem(PersonRefusedException refused) =>
        Problems.Invalid(refused.Field, refused.Rule, refused.Message, refused.Mend);

    private static Scope ScopeOf(ScopeEntry scope)
    {
        ScopeKind kind = Enum.GetValues<ScopeKind>().Cast<ScopeKind?>().FirstOrDefault(known => Json.Name(known!.Value.ToString()) == scope.Kind)
            ?? throw new PersonRefusedException(
                "scope.kind", "choice", $"'{scope.Kind}' is no kind of scope.", $"Give one of: {string.Join(", ", PeopleWords.Scopes)}.");
        return Scope.Of(kind, scope.Codes ?? []) ?? throw new PersonRefusedException(
            "scope.codes", "count", $"A scope has 1 to {Scope.MostCodes} codes; everything has none.", "Give the codes of what is seen, or choose everything and no codes.");
    }
}
