using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;

namespace Washwear.Benchmarks.PartLife;

/// <summary>
/// Random small samples through every method of part life. None may throw, hang, give a number that is none or an unordered bound; each that does
/// is printed as a file for the hard cases, and the program ends with an error. A search that did not settle is an answer in words, but printed
/// too.
/// </summary>
internal static class FuzzStudy
{
    private const int DefaultSamples = 100_000;
    private const double MostSeconds = 1;
    private const int MostPrinted = 20;
    private const int ComparedEvery = 10;

    public static Task RunAsync(int? samples)
    {
        int count = samples ?? DefaultSamples;
        var kinds = new SortedDictionary<string, int>(StringComparer.Ordinal);
        int broken = 0;
        double slowest = 0;
        for (int number = 0; number < count; number++)
        {
            AnyLife[] sample = AnySample.Draw(number);
            TimeSpan start = Environment.CpuUsage.TotalTime;
            string? fault = Fault(sample, number, kinds);
            double seconds = (Environment.CpuUsage.TotalTime - start).TotalSeconds;
            slowest = number == 0 ? 0 : Math.Max(slowest, seconds);
            fault ??= number > 0 && seconds > MostSeconds ? $"took {seconds:G3} s of processor time" : null;
            broken += fault is null ? 0 : 1;
            if (fault is not null && broken <= MostPrinted)
            {
                Report.Line($"sample {number}: {fault}\n{AnySample.Text(sample)}");
            }
        }

        Report.Line($"{count} samples, each numbered by its seed from 0 on");
        foreach ((string kind, int times) in kinds)
        {
            Report.Line($"  {kind}: {times}");
        }

        Report.Against("  slowest sample, all methods, seconds of processor time", slowest, MostSeconds, least: false);
        Report.Against("  samples that broke a rule", broken, 0, least: false);
        Environment.ExitCode = broken > 0 ? 1 : 0;
        return Task.CompletedTask;
    }

    private static string? Fault(AnyLife[] sample, int number, SortedDictionary<string, int> kinds)
    {
        try
        {
            Lives lives = AnySample.Build(sample);
            LifeResult result = WeibullFit.Fit(lives, new WeibullFitOptions { MinimumFailures = 2 + (number % 2) });
            string kind = result is NotEnough none ? $"no curve: {none.Rule}" : "curve";
            kinds[kind] = kinds.GetValueOrDefault(kind) + 1;
            if (result is NotEnough { Rule: NoFitRule.NotConverged } && kinds[kind] <= MostPrinted)
            {
                Report.Line($"sample {number}: the search did not settle\n{AnySample.Text(sample)}");
            }

            string? fault = result is FittedLife fit ? OfFit(fit, kinds) : null;
            return fault ?? OfCurve(lives) ?? (number % ComparedEvery == 0 ? OfComparisons(lives, number) : null);
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            return e.ToString();
        }
    }

    private static string? OfFit(FittedLife fit, SortedDictionary<string, int> kinds)
    {
        LifeBounds profile = WeibullBounds.Of(fit, new WeibullBoundsOptions { SurvivalAges = [1e-3, 1, 1e3] });
        LifeBounds normal = WeibullBounds.Of(
            fit, new WeibullBoundsOptions { SurvivalAges = [1], Method = BoundsMethod.ObservedInformation });
        if (profile.Doubts.Count > 0)
        {
            kinds["curve with an open bound"] = kinds.GetValueOrDefault("curve with an open bound") + 1;
        }

        double figures = fit.LogLikelihood + fit.VarianceOfLogScale + fit.CovarianceOfLogs + fit.VarianceOfLogShape;
        return !double.IsFinite(figures) ? "a variance is no number"
            : Unordered(Figures(profile)) ?? Unordered(Figures(normal))
                ?? Unordered([WeibullBounds.FurtherFailure(fit, 1, 0.5), WeibullBounds.FurtherFailure(fit, 0, 3)]);
    }

    private static IEnumerable<Estimate> Figures(LifeBounds b) =>
        [b.Shape, b.Scale, b.MeanLife, .. b.AgesWhenFailed.Select(a => a.Age), .. b.SurvivalAtAges.Select(s => s.Survival)];

    private static string? OfCurve(Lives lives)
    {
        SurvivalCurve curve = KaplanMeier.Estimate(lives);
        string? fault = Unordered(curve.Steps.Select(s => new Estimate(s.Survival, s.Lower, s.Upper, 0.95, "Kaplan-Meier")));
        LifeResult given = FixedShapeFit.Fit(lives, 1.7);
        return fault ?? (given is FixedShapeLife life && !(life.ScaleLower > 0 && double.IsFinite(life.ScaleLower) && double.IsFinite(life.Scale ?? 1))
            ? $"fixed shape: {life.ScaleLower}, {life.Scale}"
            : null);
    }

    private static string? OfComparisons(Lives lives, int number)
    {
        Lives other = AnySample.Build(AnySample.Draw(number + 1));
        LifeGroup[] groups = [new("one", lives), new("other", other)];
        GroupComparisonResult compared = GroupComparison.Compare(groups);
        PoorSwapResult swaps = PoorSwaps.Compare(lives);
        double?[] chances =
        [
            LogRank.Compare(groups).PValue, compared.EqualScale?.PValue, compared.EqualShape?.PValue, compared.EqualShapeAndScale?.PValue,
            .. compared.Comparisons.Select(c => c.PValue), .. lives.Failures > 0 ? IncidencesOf(lives) : [],
            .. WeibullFit.Fit(lives) is FittedLife fit ? new[] { GoodnessOfFit.Test(fit).PValue, PlotBend.Test(fit).PValue } : [],
        ];
        _ = MedianRanks.Plot(lives);
        return Array.Find(chances, c => c is not (null or (>= 0 and <= 1 + 1e-9))) is { } no ? $"a chance of {no}"
            : Unordered(compared.Comparisons.Where(c => c.ScaleRatio is not null).Select(c => c.ScaleRatio!))
                ?? Unordered(new[] { swaps.B10, swaps.MeanLife }.SelectMany(r => new[] { r.IfAboutToFail, r.IfAsGoodAsOthers }).OfType<Estimate>());
    }

    private static IEnumerable<double?> IncidencesOf(Lives lives) =>
        CompetingRisks.Incidence(lives).Modes.SelectMany(m => m.Steps).Select(s => (double?)s.Incidence);

    private static string? Unordered(IEnumerable<Estimate> estimates) => estimates.FirstOrDefault(e =>
        !double.IsFinite(e.Value) || !double.IsFinite(e.Lower ?? 0) || !double.IsFinite(e.Upper ?? 0)
        || e.Lower > e.Value * (1 + 1e-9) || e.Upper < e.Value * (1 - 1e-9))?.ToString();
}
