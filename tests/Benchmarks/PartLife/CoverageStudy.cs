using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;

namespace Washwear.Benchmarks.PartLife;

/// <summary>
/// How often 90 % bounds contain the truth, over simulated fleets; how often the tests of fit and of a bent plot raise a false alarm on the same
/// fleets. Prints two tables in Markdown, as they stand in docs/part-life-coverage.md.
/// </summary>
internal static class CoverageStudy
{
    private const int Seed = 20263;
    private const double Level = 0.90;
    private const double LeastCoverage = 0.88;
    private const double MostCoverage = 0.92;
    private const double Age = 500;
    private const double AlarmLevel = 0.05;

    private static readonly Weibull Truth = SimulatedFleet.Truth;

    private static readonly (string Name, double Truth, Func<LifeBounds, Estimate> Of)[] Figures =
    [
        ("shape", Truth.Shape, b => b.Shape),
        ("scale", Truth.Scale, b => b.Scale),
        ("mean life", Truth.MeanLife, b => b.MeanLife),
        ("B10", Truth.AgeWhenFailed(0.10), b => b.AgesWhenFailed[0].Age),
        ("B50", Truth.AgeWhenFailed(0.50), b => b.AgesWhenFailed[1].Age),
        ("survival at 500", Truth.SurvivalAt(Age), b => b.SurvivalAtAges[0].Survival),
    ];

    public static Task RunAsync(int? fleets)
    {
        int count = fleets ?? 10_000;
        SimulatedFleet[] cases =
        [
            .. from late in new[] { false, true } from parts in new[] { 20, 60, 300 } from censored in new[] { 0.3, 0.5, 0.7, 0.9 }
               select new SimulatedFleet(parts, censored, late),
        ];
        Tally[] tallies = [.. cases.Select((one, i) => Study(one, count, Seed + i))];
        Report.Line($"Seed {Seed}, {count} fleets a case, level {100 * Level} %, truth: shape {Truth.Shape}, scale {Truth.Scale} days.\n");
        Report.Line($"| late entry | parts | censored | no curve | open bound | {string.Join(" | ", Figures.Select(f => f.Name))} |");
        Report.Line($"|---|---|---|---|---|{string.Concat(Figures.Select(_ => "---|"))}");
        foreach ((SimulatedFleet one, Tally tally) in cases.Zip(tallies))
        {
            string cells = string.Join(" | ", Figures.Select((_, f) => Cell(tally, f)));
            Report.Line($"| {Case(one)} | {Tally.Share(tally.NoCurve, count)} | {Tally.Share(tally.Open, tally.Fitted)} | {cells} |");
        }

        Report.Line($"\n| late entry | parts | censored | plot tested for a bend | false alarms | curve tested for fit | false alarms |");
        Report.Line($"|---|---|---|---|---|---|---|");
        foreach ((SimulatedFleet one, Tally t) in cases.Zip(tallies))
        {
            Report.Line(
                $"| {Case(one)} | {t.BendTested} | {Tally.Share(t.BendAlarms, t.BendTested)} | {t.FitTested} | {Tally.Share(t.FitAlarms, t.FitTested)} |");
        }

        return Task.CompletedTask;
    }

    private static Tally Study(SimulatedFleet fleet, int count, int seed)
    {
        var random = new Random(seed);
        var tally = new Tally(Figures.Length);
        for (int i = 0; i < count; i++)
        {
            if (WeibullFit.Fit(fleet.Draw(random)) is not FittedLife fit)
            {
                tally.NoCurve++;
                continue;
            }

            tally.Fitted++;
            CountBounds(tally, fit);
            CountAlarms(tally, fit);
        }

        return tally;
    }

    private static void CountBounds(Tally tally, FittedLife fit)
    {
        var asked = new WeibullBoundsOptions { Level = Level, SurvivalAges = [Age] };
        LifeBounds profile = WeibullBounds.Of(fit, asked);
        LifeBounds normal = WeibullBounds.Of(fit, asked with { Method = BoundsMethod.ObservedInformation });
        for (int f = 0; f < Figures.Length; f++)
        {
            tally.Profile[f] += Covers(Figures[f].Of(profile), Figures[f].Truth);
            tally.Normal[f] += Covers(Figures[f].Of(normal), Figures[f].Truth);
        }

        tally.Open += Figures.Any(f => f.Of(profile) is { Lower: null } or { Upper: null }) ? 1 : 0;
    }

    private static void CountAlarms(Tally tally, FittedLife fit)
    {
        if (PlotBend.Test(fit, AlarmLevel).PValue is { } bend)
        {
            tally.BendTested++;
            tally.BendAlarms += bend < AlarmLevel ? 1 : 0;
        }

        if (GoodnessOfFit.Test(fit).PValue is { } poor)
        {
            tally.FitTested++;
            tally.FitAlarms += poor < AlarmLevel ? 1 : 0;
        }
    }

    // A bound that is open excludes nothing on its side.
    private static int Covers(Estimate bounds, double truth) =>
        (bounds.Lower ?? double.NegativeInfinity) <= truth && truth <= (bounds.Upper ?? double.PositiveInfinity) ? 1 : 0;

    private static string Case(SimulatedFleet one) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture, $"{(one.Late ? "yes" : "no")} | {one.Parts} | {100 * one.Censored:F0} %");

    private static string Cell(Tally tally, int figure)
    {
        double profile = tally.Profile[figure] / (double)tally.Fitted;
        string both = $"{Tally.Share(tally.Profile[figure], tally.Fitted)} / {Tally.Share(tally.Normal[figure], tally.Fitted)}";
        return profile is >= LeastCoverage and <= MostCoverage ? both : $"**{both}**";
    }

    private sealed class Tally(int figures)
    {
        public int Fitted { get; set; }

        public int NoCurve { get; set; }

        public int Open { get; set; }

        public int BendTested { get; set; }

        public int BendAlarms { get; set; }

        public int FitTested { get; set; }

        public int FitAlarms { get; set; }

        public int[] Profile { get; } = new int[figures];

        public int[] Normal { get; } = new int[figures];

        public static string Share(int part, int whole) =>
            whole == 0 ? "–" : (100.0 * part / whole).ToString("F1", System.Globalization.CultureInfo.InvariantCulture);
    }
}
