using Washwear.Analytics.PartLife;
using Washwear.Analytics.Rates;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>
/// Calls out groups of parts that fail early, such as a bad batch. Each group is compared with all other parts at the position: one Weibull
/// shape, two scales, likelihood ratio. Groups with fewer failures than a claim needs, or with no more failures than the whole
/// fleet's curve expects of them, take part with p = 1, so that the adjustment (Benjamini–Hochberg) counts every group that was looked at.
/// </summary>
internal static class EarlyGroups
{
    private const int LeastFailures = 3;

    // The comparison costs two fits: beyond these only groups that stand out less are left.
    private const int MostCompared = 8;

    /// <summary>The groups that fail early, least p-value first.</summary>
    /// <param name="lives">All lives at the position, as the failure mode asked for sees them.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="by">One of <see cref="LifeComparisons.GroupingCodes"/>.</param>
    /// <param name="level">Level of the bounds.</param>
    public static IReadOnlyList<EarlyGroup> Find(IReadOnlyCollection<FleetLife> lives, LifeClock clock, string by, double level)
    {
        LifeGroup[] groups = [.. LifeComparisons.Split(lives, clock, by)];
        if (groups.Length < 2)
        {
            return [];
        }

        FittedLife? whole = WeibullFit.Fit(FleetLives.OnClock(lives, clock)) as FittedLife;
        HashSet<string> suspects = [.. groups
            .Where(group => group.Name != LifeComparisons.NotNamed && group.Lives.Failures >= LeastFailures)
            .Select(group => (group.Name, Excess: Excess(group, lives, clock, by, whole)))
            .Where(group => group.Excess > 0).OrderByDescending(group => group.Excess).Take(MostCompared).Select(group => group.Name)];
        ScaleComparison?[] compared = [.. groups.Select(group => suspects.Contains(group.Name) ? Compare(group, lives, clock, by, level) : null)];
        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust(
            [.. compared.Select(each => each is { PValue: { } p, ScaleRatio.Value: < 1 } ? p : (double?)1)]);
        return
        [
            .. groups.Select((group, i) => (Group: group, compared[i]?.ScaleRatio, P: adjusted[i]))
                .Where(each => each.P < LifeComparisons.FalseDiscoveryLevel && each.ScaleRatio is not null)
                .OrderBy(each => each.P)
                .Select(each => Evidence(each.Group, each.ScaleRatio!, each.P!.Value, lives, by, groups.Length)),
        ];
    }

    // Failures above those that the fleet's curve expects, in standard deviations of a count.
    private static double Excess(LifeGroup group, IEnumerable<FleetLife> lives, LifeClock clock, string by, FittedLife? whole)
    {
        if (whole is null)
        {
            return group.Lives.Failures;
        }

        double expected = lives.Where(life => life.Doubt is null && IsIn(life, group.Name, by)).Sum(life =>
            life.Ages.TryGetValue(clock, out LifeAges ages) && ages.End > ages.Entry
                ? whole.Curve.CumulativeHazardAt(ages.End) - whole.Curve.CumulativeHazardAt(ages.Entry)
                : 0);
        return (group.Lives.Failures - expected) / Math.Sqrt(Math.Max(expected, 1e-9));
    }

    private static ScaleComparison Compare(LifeGroup group, IEnumerable<FleetLife> lives, LifeClock clock, string by, double level)
    {
        const string Others = "all others";
        Lives rest = FleetLives.OnClock([.. lives.Where(life => !IsIn(life, group.Name, by))], clock);
        return GroupComparison.Compare([group, new LifeGroup(Others, rest)], Others, level).Comparisons[0];
    }

    private static EarlyGroup Evidence(
        LifeGroup group, Analytics.Numerics.Estimate ratio, double p, IEnumerable<FleetLife> lives, string by, int lookedAt)
    {
        FleetLife[] fitted = [.. lives.Where(life => life.StillFitted && IsIn(life, group.Name, by))];
        return new EarlyGroup(
            by,
            group.Name,
            group.Lives.Count,
            group.Lives.Failures,
            ratio,
            p,
            lookedAt,
            fitted.Length,
            [.. fitted.Select(life => life.Unit.Resource.Unit).Distinct().Order(StringComparer.OrdinalIgnoreCase)],
            PartLifeSentences.Early(by, group.Name, group.Lives.Count, group.Lives.Failures, ratio, p, lookedAt, fitted.Length));
    }

    private static bool IsIn(FleetLife life, string group, string by) =>
        string.Equals(LifeComparisons.GroupOf(life, by), group, StringComparison.OrdinalIgnoreCase);
}
