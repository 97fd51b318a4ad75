using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;

namespace Washwear.Api.Security;

/// <summary>What a key or a person may do; the abilities do not include one another.</summary>
[Flags]
public enum Abilities
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>Read reports, pages, charts and the registry.</summary>
    Read = 1,

    /// <summary>Send records.</summary>
    Ingest = 2,

    /// <summary>Change the registry, the rules, the plan's terms and the webhooks.</summary>
    Manage = 4,

    /// <summary>Report visits, keep their photos, decide approvals, mark alerts as seen.</summary>
    Work = 8,

    /// <summary>Accept, postpone and reject what the plan advises.</summary>
    Plan = 16,

    /// <summary>Let others in: people, keys, what was done by whom, what is kept for how long.</summary>
    Administer = 32,

    /// <summary>All of them.</summary>
    All = Read | Ingest | Manage | Work | Plan | Administer,

    /// <summary>Those that act on what all operators share: they go with the whole fleet only.</summary>
    WholeFleet = Manage | Administer,
}

/// <summary>Mark on an endpoint: its caller must see the whole fleet.</summary>
public sealed record RequiredWholeFleet;

/// <summary>Mark on an endpoint: what its caller must be able to do.</summary>
/// <param name="Ability">One ability.</param>
public sealed record RequiredAbility(Abilities Ability);

/// <summary>Declares on a route group what a caller must be able to do.</summary>
public static class AbilityRules
{
    /// <summary>Claim that carries one ability.</summary>
    public const string Claim = "ability";

    /// <summary>Why some abilities go with no scope but the whole fleet.</summary>
    public const string WholeFleetOnly =
        "To manage and to administer act on what all operators share (models, rules, prices, keys), so they go with the whole fleet only.";

    private const string WholeFleetPolicy = "whole-fleet";

    private static readonly Abilities[] Single =
        [Abilities.Read, Abilities.Ingest, Abilities.Work, Abilities.Plan, Abilities.Manage, Abilities.Administer];

    /// <summary>Only callers with the ability get through; a route without such a declaration fails a test.</summary>
    /// <typeparam name="T">A route or a group of routes.</typeparam>
    /// <param name="routes">The routes.</param>
    /// <param name="ability">One ability.</param>
    public static T RequireAbility<T>(this T routes, Abilities ability)
        where T : IEndpointConventionBuilder =>
        (Abilities.WholeFleet.HasFlag(ability) ? routes.RequireWholeFleet() : routes)
            .RequireAuthorization(PolicyName(ability)).WithMetadata(new RequiredAbility(ability));

    /// <summary>Only callers who see the whole fleet get through: what is behind the route belongs to no operator.</summary>
    /// <typeparam name="T">A route or a group of routes.</typeparam>
    /// <param name="routes">The routes.</param>
    public static T RequireWholeFleet<T>(this T routes)
        where T : IEndpointConventionBuilder =>
        routes.RequireAuthorization(WholeFleetPolicy).WithMetadata(new RequiredWholeFleet());

    /// <summary>Whether a caller has an ability.</summary>
    /// <param name="caller">The caller.</param>
    /// <param name="ability">One ability.</param>
    public static bool May(this ClaimsPrincipal caller, Abilities ability) => caller.HasClaim(Claim, Word(ability));

    /// <summary>Whether abilities go with a scope.</summary>
    /// <param name="abilities">Abilities together.</param>
    /// <param name="scope">The scope.</param>
    public static bool Fit(Abilities abilities, Scope scope) => scope.Kind == ScopeKind.Everything || (abilities & Abilities.WholeFleet) == 0;

    /// <summary>Registers a policy for each ability, and one that closes to strangers whatever declares nothing.</summary>
    /// <param name="services">The services.</param>
    public static void AddAbilities(this IServiceCollection services)
    {
        AuthorizationBuilder authorization = services.AddAuthorizationBuilder();
        foreach (Abilities ability in Single)
        {
            authorization.AddPolicy(PolicyName(ability), policy => policy.RequireClaim(Claim, Word(ability)));
        }

        authorization.AddPolicy(WholeFleetPolicy, policy => policy.RequireAssertion(
            context => Authentication.ScopeOf(context.User).Kind == ScopeKind.Everything));
        authorization.SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
    }

    /// <summary>Reads abilities separated by spaces or commas.</summary>
    /// <param name="text">The text, such as 'read,ingest'.</param>
    /// <param name="abilities">What was read.</param>
    /// <returns>Whether there was at least one and each is known.</returns>
    public static bool TryParse(string text, out Abilities abilities)
    {
        abilities = Abilities.None;
        foreach (string word in text.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries))
        {
            Abilities found = Array.Find(Single, ability => Word(ability) == word);
            if (found == Abilities.None)
            {
                return false;
            }

            abilities |= found;
        }

        return abilities != Abilities.None;
    }

    /// <summary>The abilities one by one, in words.</summary>
    /// <param name="abilities">Abilities together.</param>
    public static IEnumerable<string> Words(Abilities abilities) => Single.Where(ability => abilities.HasFlag(ability)).Select(Word);

    private static string PolicyName(Abilities ability) => "ability-" + Word(ability);

    private static string Word(Abilities ability) => ability switch
    {
        Abilities.Read => "read",
        Abilities.Ingest => "ingest",
        Abilities.Work => "work",
        Abilities.Plan => "plan",
        Abilities.Manage => "manage",
        Abilities.Administer => "administer",
        _ => throw new ArgumentOutOfRangeException(nameof(ability), ability, "One ability at a time."),
    };
}
