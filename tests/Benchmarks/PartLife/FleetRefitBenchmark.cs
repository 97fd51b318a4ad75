using Washwear.Analytics.PartLife;

namespace Washwear.Benchmarks.PartLife;

/// <summary>
/// A fleet refitted after new records: 200,000 lives at 50 positions in 10 groups each. Every group and every position gets its curve with
/// profile bounds on shape, scale, mean life, B10 and B50; the groups of each position are compared (log-rank, nested models, ratios of
/// scales with profile bounds, false discovery rate).
/// </summary>
internal static class FleetRefitBenchmark
{
    private const int Seed = 20262;
    private const int Positions = 50;
    private const int Groups = 10;
    private const int LivesInGroup = 400;
    private const double MostSeconds = 2;

    public static Task RunAsync()
    {
        LifeGroup[][] fleet = [.. Enumerable.Range(0, Positions).Select(Position)];
        double fits = Report.MedianSeconds(3, () => Array.ForEach(fleet, FitAll));
        double comparisons = Report.MedianSeconds(3, () => Array.ForEach(fleet, CompareAll));
        Report.Line($"{Positions} positions x {Groups} groups, {Positions * Groups * LivesInGroup} lives, a third of them entered late");
        Report.Line($"  curves with bounds for groups and positions: {fits:G3} s; comparisons of the groups: {comparisons:G3} s");
        Report.Against("  whole refit, seconds", fits + comparisons, MostSeconds, least: false);
        return Task.CompletedTask;
    }

    private static void FitAll(LifeGroup[] groups)
    {
        foreach (LifeGroup group in groups)
        {
            _ = WeibullBounds.Of((FittedLife)WeibullFit.Fit(group.Lives));
        }

        _ = WeibullBounds.Of((FittedLife)WeibullFit.Fit(LifeGroup.Together(groups)));
    }

    private static void CompareAll(LifeGroup[] groups)
    {
        _ = LogRank.Compare(groups);
        _ = GroupComparison.Compare(groups);
    }

    private static LifeGroup[] Position(int position)
    {
        var random = new Random(Seed + position);
        double shape = 0.8 + (2.4 * random.NextDouble());
        return [.. Enumerable.Range(0, Groups).Select(g => new LifeGroup($"group {g}", Group(random, shape, 600 + (800 * random.NextDouble()))))];
    }

    private static Lives Group(Random random, double shape, double scale)
    {
        var builder = new LivesBuilder("days", LivesInGroup);
        while (builder.Count < LivesInGroup)
        {
            double life = scale * Math.Pow(-Math.Log(1 - random.NextDouble()), 1 / shape);
            double entry = random.Next(3) == 0 ? 300 * random.NextDouble() : 0;
            double end = entry + (1200 * (1 - random.NextDouble()));
            if (life > entry)
            {
                _ = life <= end ? builder.FailedAt(life, entry) : builder.StillRunningAt(end, entry);
            }
        }

        return builder.Build();
    }
}
