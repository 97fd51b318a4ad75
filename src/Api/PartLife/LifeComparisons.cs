using Washwear.Analytics.PartLife;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>What else the lives of a position say: whether the model fits, which clock explains them, which groups differ.</summary>
internal static class LifeComparisons
{
    /// <summary>Share of false findings that is borne among groups said to differ, and of false alarms of the test of the fit.</summary>
    public const double FalseDiscoveryLevel = 0.05;

    /// <summary>Group of parts that do not name theirs.</summary>
    public const string NotNamed = "not named";

    private const int MostGroups = 24;

    // Classes of the U.S. Geological Survey, mg/L as CaCO3: soft to 60, moderately hard to 120, hard to 180, very hard above.
    private static readonly (double UpTo, string Name)[] HardnessClasses =
        [(60, "soft water"), (120, "moderately hard water"), (180, "hard water"), (double.PositiveInfinity, "very hard water")];

    private static readonly Dictionary<string, Func<FleetLife, string?>> Groupings = new()
    {
        ["part_number"] = life => life.PartNumber,
        ["batch"] = life => life.Batch,
        ["supplier"] = life => life.Supplier,
        ["model"] = life => life.Unit.Model.Resource.Model,
        ["operator"] = life => life.Unit.Site.Operator.Resource.Name,
        ["region"] = life => life.Unit.Site.Resource.Region,
        ["water_hardness"] = life => life.Unit.Site.Resource.WaterHardnessMgPerL is { } hardness
            ? HardnessClasses.First(kind => hardness <= kind.UpTo).Name
            : null,
    };

    /// <summary>Codes of what lives can be compared by.</summary>
    public static IReadOnlyCollection<string> GroupingCodes => Groupings.Keys;

    /// <summary>Name of the group that a part belongs to.</summary>
    /// <param name="life">The part.</param>
    /// <param name="by">One of <see cref="GroupingCodes"/>.</param>
    public static string GroupOf(FleetLife life, string by) => Groupings[by](life) ?? NotNamed;

    /// <summary>Which clock explains the lives best; null where fewer than two clocks know enough of them.</summary>
    /// <param name="lives">The lives.</param>
    public static ClockFigures? Clocks(IReadOnlyCollection<FleetLife> lives)
    {
        LifeClock[] clocks = [.. Enum.GetValues<LifeClock>().Where(clock => KnownOn(lives, clock) * 2 > KnownOn(lives, LifeClock.Days))];
        if (clocks.Length < 2)
        {
            return null;
        }

        var builder = new MultiClockLivesBuilder([.. clocks.Select(FleetLives.Name)]);
        foreach (FleetLife life in lives.Where(life => life.Doubt is null))
        {
            Add(builder, life, clocks);
        }

        ClockChoiceResult choice = ClockChoice.Choose(builder.Build());
        return choice.Best is null ? null : new ClockFigures(
            GroupSentences.Clocks(choice.Best, choice.Decided),
            choice.Best,
            choice.Decided,
            [.. choice.Clocks.Select(clock => new ClockRow(clock.Clock, clock.AicAboveBest, (clock.Fit as FittedLife)?.Curve.AgeWhenFailed(0.10)))]);
    }

    /// <summary>The lives compared by groups, each with the group that has most lives.</summary>
    /// <param name="lives">The lives, as the failure mode asked for sees them.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="by">One of <see cref="GroupingCodes"/>.</param>
    /// <param name="level">Level of the bounds.</param>
    public static GroupFigures Groups(IReadOnlyCollection<FleetLife> lives, LifeClock clock, string by, double level)
    {
        LifeGroup[] all = [.. Split(lives, clock, by)];
        LifeGroup[] groups =
        [
            .. all.OrderByDescending(group => group.Lives.Failures).ThenByDescending(group => group.Lives.Count).Take(MostGroups)
                .OrderByDescending(group => group.Lives.Count).ThenBy(group => group.Name, StringComparer.Ordinal),
        ];
        if (groups.Length < 2)
        {
            return new GroupFigures(by, GroupSentences.OneGroup, null, null, null, null, [], 0, []);
        }

        GroupComparisonResult compared = GroupComparison.Compare(groups, groups[0].Name, level);
        LogRankResult? logRank = groups.Sum(group => group.Lives.Failures) == 0 ? null : LogRank.Compare(groups);
        GroupVerdict[] verdicts = [.. groups.Select(group => Verdict(compared.Comparisons.FirstOrDefault(comparison => comparison.Name == group.Name)))];
        GroupRow[] rows = [.. groups.Select((group, i) => Row(group, compared.Groups[i], compared, verdicts[i], logRank?.Groups[i].Expected))];
        GroupRow[] earlier = [.. rows.Where((_, i) => verdicts[i] == GroupVerdict.FailsEarlier)];
        return new GroupFigures(
            by, GroupSentences.Finding(groups[0].Name, earlier), compared.CommonShape, compared.EqualShape?.PValue, compared.EqualScale?.PValue, logRank?.PValue, rows,
            all.Length - groups.Length, Remarks.Told([.. compared.Account.Doubts, .. logRank?.Account.Doubts.Except(compared.Account.Doubts) ?? []]));
    }

    /// <summary>The lives of each group that has any on the clock.</summary>
    /// <param name="lives">The lives.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="by">One of <see cref="GroupingCodes"/>.</param>
    public static IEnumerable<LifeGroup> Split(IEnumerable<FleetLife> lives, LifeClock clock, string by) => lives
        .GroupBy(life => GroupOf(life, by), StringComparer.OrdinalIgnoreCase)
        .Select(group => new LifeGroup(group.Key, FleetLives.OnClock([.. group], clock)))
        .Where(group => group.Lives.Count > 0);

    private static GroupRow Row(LifeGroup group, GroupFit fit, GroupComparisonResult compared, GroupVerdict verdict, double? expected)
    {
        ScaleComparison? against = compared.Comparisons.FirstOrDefault(comparison => comparison.Name == group.Name);
        return new GroupRow(
            group.Name, group.Lives.Count, group.Lives.Failures, expected, fit.ScaleAtCommonShape, against?.ScaleRatio,
            against?.AdjustedPValue, GroupSentences.Name(verdict));
    }

    private static GroupVerdict Verdict(ScaleComparison? against) => against switch
    {
        null => GroupVerdict.ComparedWith,
        { AdjustedPValue: null } => GroupVerdict.TooFew,
        { AdjustedPValue: < FalseDiscoveryLevel, ScaleRatio.Value: < 1 } => GroupVerdict.FailsEarlier,
        { AdjustedPValue: < FalseDiscoveryLevel } => GroupVerdict.LastsLonger,
        _ => GroupVerdict.NoDifference,
    };

    private static int KnownOn(IEnumerable<FleetLife> lives, LifeClock clock) =>
        lives.Count(life => life.Doubt is null && life.Ages.TryGetValue(clock, out LifeAges ages) && ages.End > ages.Entry);

    // Every clock must speak of the same parts: one that is unknown on any of them is left out here.
    private static void Add(MultiClockLivesBuilder builder, FleetLife life, LifeClock[] clocks)
    {
        if (!clocks.All(clock => life.Ages.TryGetValue(clock, out LifeAges known) && known.End > known.Entry))
        {
            builder.Exclude(FleetLives.NotOnThisClock);
            return;
        }

        double[] ends = [.. clocks.Select(clock => life.Ages[clock].End)];
        double[] entries = [.. clocks.Select(clock => life.Ages[clock].Entry)];
        double[] seen = [.. clocks.Select(clock => Math.Max(life.Ages[clock].LastSeenGood ?? 0, life.Ages[clock].Entry))];
        if (!life.Failed)
        {
            builder.StillRunningAt(ends, entries);
        }
        else if (life.EndedHow == "failed" || seen.Where((look, i) => look >= ends[i]).Any())
        {
            builder.FailedAt(ends, entries);
        }
        else
        {
            builder.FailedBetween(seen, ends, entries);
        }
    }
}
