namespace Washwear.Api.Registry;

/// <summary>What a rule said before it was changed.</summary>
/// <param name="Rule">The rule as it was put.</param>
/// <param name="Until">Last trading day on which it held; it began on the day after the version before it ended.</param>
/// <param name="ReplacedAt">When another took its place.</param>
/// <param name="WithdrawnAt">When somebody said that it never should have held; null: it judges its days.</param>
public sealed record RuleVersionResource(
    RuleResource Rule, DateOnly Until, DateTimeOffset ReplacedAt, DateTimeOffset? WithdrawnAt = null);

/// <summary>An earlier version of a rule in the registry.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="RuleId">Number of the rule.</param>
/// <param name="Resource">The version.</param>
public sealed record RuleVersionEntry(int Id, int RuleId, RuleVersionResource Resource);

/// <summary>All versions of one rule.</summary>
/// <param name="Rule">Code of the rule.</param>
/// <param name="HoldsFrom">First trading day of what the rule says now; null: it was never changed, or the change replaced the past.</param>
/// <param name="Now">What it says now.</param>
/// <param name="Earlier">What it said before, in the order of their days.</param>
public sealed record RuleVersionsReport(string Rule, DateOnly? HoldsFrom, RuleResource Now, IReadOnlyList<RuleVersionResource> Earlier);

/// <summary>Which days each version of a rule holds on.</summary>
public static class RuleVersions
{
    /// <summary>Days that have begun nowhere on earth lie at least this far from UTC's now.</summary>
    private static readonly TimeSpan FarthestAhead = TimeSpan.FromHours(14);

    /// <summary>First trading day that has not begun at any site, whatever its time zone.</summary>
    /// <param name="now">The instant.</param>
    public static DateOnly FirstDayToCome(DateTimeOffset now) => DateOnly.FromDateTime((now + FarthestAhead).UtcDateTime).AddDays(1);

    /// <summary>Whether two contents judge alike: the basis text and the validity dates, which name their days themselves, may differ.</summary>
    /// <param name="one">A content.</param>
    /// <param name="other">Another.</param>
    public static bool JudgeAlike(RuleResource one, RuleResource other) =>
        one with { Basis = "", ValidFrom = null, ValidTo = null, EveryWashesByHardness = null }
            == other with { Basis = "", ValidFrom = null, ValidTo = null, EveryWashesByHardness = null, Rule = one.Rule }
        && (one.EveryWashesByHardness ?? []).SequenceEqual(other.EveryWashesByHardness ?? []);

    /// <summary>Everything that a rule says or said, each with the days on which it holds.</summary>
    /// <param name="rule">The rule as it is now.</param>
    /// <param name="earlier">Its earlier versions in any order.</param>
    /// <returns>Contents whose validity is cut to their days; those that never held are left out.</returns>
    public static IEnumerable<RuleEntry> Of(RuleEntry rule, IEnumerable<RuleVersionEntry> earlier)
    {
        DateOnly? from = null;
        foreach (RuleVersionResource version in earlier.Select(entry => entry.Resource).Where(one => one.WithdrawnAt is null).OrderBy(one => one.Until))
        {
            if (Cut(version.Rule, from, version.Until) is { } held)
            {
                yield return rule with { Resource = held };
            }

            from = version.Until.AddDays(1);
        }

        if (Cut(rule.Resource, from, null) is { } now)
        {
            yield return rule with { Resource = now };
        }
    }

    private static RuleResource? Cut(RuleResource rule, DateOnly? from, DateOnly? until)
    {
        DateOnly? begin = rule.ValidFrom > from || from is null ? rule.ValidFrom : from;
        DateOnly? end = rule.ValidTo < until || until is null ? rule.ValidTo : until;
        return begin > end ? null : rule with { ValidFrom = begin, ValidTo = end };
    }
}
