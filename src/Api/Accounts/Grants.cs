using System.Security.Claims;
using Washwear.Api.Http;
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
        if (read.Codes.FirstOrDefault(code => !IsKnown(read.Kind, code, registry)) is { } unknown)
        {
            throw new PersonRefusedException(
                "scope.codes", "known", $"There is none of the {scope!.Kind} with the code '{unknown}'.", "Register it first, or mend the code.");
        }

        return new Grant(found, read);
    }

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

    private static bool IsKnown(ScopeKind kind, string code, RegistrySnapshot registry) => kind switch
    {
        ScopeKind.Operators => registry.Operators.ContainsKey(code),
        ScopeKind.Sites => registry.Sites.ContainsKey(code),
        ScopeKind.Units => registry.Units.ContainsKey(code),
        _ => true,
    };
}
