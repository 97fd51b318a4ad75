using Microsoft.AspNetCore.Authorization;

namespace Washwear.Api.Security;

/// <summary>What a key may do; the abilities do not include one another.</summary>
[Flags]
public enum Abilities
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>Read reports, pages, charts and the registry.</summary>
    Read = 1,

    /// <summary>Send records.</summary>
    Ingest = 2,

    /// <summary>Change the registry.</summary>
    Manage = 4,

    /// <summary>All of them.</summary>
    All = Read | Ingest | Manage,
}

/// <summary>Mark on an endpoint: what its caller must be able to do.</summary>
/// <param name="Ability">One ability.</param>
public sealed record RequiredAbility(Abilities Ability);

/// <summary>Declares on a route group what a caller must be able to do.</summary>
public static class AbilityRules
{
    /// <summary>Claim that carries one ability.</summary>
    public const string Claim = "ability";

    private static readonly Abilities[] Single = [Abilities.Read, Abilities.Ingest, Abilities.Manage];

    /// <summary>Only callers with the ability get through; a route without such a declaration fails a test.</summary>
    /// <typeparam name="T">A route or a group of routes.</typeparam>
    /// <param name="routes">The routes.</param>
    /// <param name="ability">One ability.</param>
    public static T RequireAbility<T>(this T routes, Abilities ability)
        where T : IEndpointConventionBuilder =>
        routes.RequireAuthorization(PolicyName(ability)).WithMetadata(new RequiredAbility(ability));

    /// <summary>Registers a policy for each ability, and one that closes to strangers whatever declares nothing.</summary>
    /// <param name="services">The services.</param>
    public static void AddAbilities(this IServiceCollection services)
    {
        AuthorizationBuilder authorization = services.AddAuthorizationBuilder();
        foreach (Abilities ability in Single)
        {
            authorization.AddPolicy(PolicyName(ability), policy => policy.RequireClaim(Claim, Word(ability)));
        }

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
        Abilities.Manage => "manage",
        _ => throw new ArgumentOutOfRangeException(nameof(ability), ability, "One ability at a time."),
    };
}
