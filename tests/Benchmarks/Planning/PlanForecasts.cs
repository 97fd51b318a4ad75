using Washwear.Analytics.Planning;

namespace Washwear.Benchmarks.Planning;

/// <summary>Chances told at the begin of each quarter of year 3 that a part fails within 90 days if left alone, against what its true life says.</summary>
internal static class PlanForecasts
{
    /// <summary>Prints the verdict on each fleet and, band by band over all fleets, what was said and what happened.</summary>
    public static void Print(IReadOnlyList<IReadOnlyList<ForecastCase>> fleets)
    {
        ForecastScoring[] scores = [.. fleets.Where(f => f.Count > 0).Select(f => ForecastScore.Of(f))];
        int With(ForecastVerdict verdict) => scores.Count(s => s.Verdict == verdict);
        Report.Line($"  forecasts for 90 days: said {scores.Sum(s => s.Expected):F0} failures, happened {scores.Sum(s => s.Happened)}; of {fleets.Count} fleets {With(ForecastVerdict.Fits)} fit, {With(ForecastVerdict.SaidTooHigh)} said too high, {With(ForecastVerdict.SaidTooLow)} too low, {With(ForecastVerdict.TooFewToSay)} too few to say, {fleets.Count - scores.Length} without a curve");
        foreach (IGrouping<double, ForecastBand> band in scores.SelectMany(s => s.Bands).GroupBy(b => b.From).OrderBy(g => g.Key))
        {
            double count = band.Sum(b => b.Count);
            Report.Line($"    {band.Key:P0} to {band.First().To:P0}: {count:F0} chances, said {band.Sum(b => b.Count * b.MeanSaid) / count:P1}, happened {band.Sum(b => b.Happened) / count:P1}");
        }
    }
}
