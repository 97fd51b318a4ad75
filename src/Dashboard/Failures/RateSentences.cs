using Washwear.Analytics.Rates;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Who fails more than the fleet, in one sentence.</summary>
public static class RateSentences
{
    private const int MostNamed = 3;

    /// <summary>What the answer is worked out by, for its basis.</summary>
    public static string Method => Fill.In(Texts.MethodName, ("method", Remarks.Told(FleetRate.Method)));

    private static FailureRatesTexts Texts => FailureRatesTexts.Now;

    /// <summary>The finding.</summary>
    /// <param name="count">How many rows there are.</param>
    /// <param name="called">Codes of those that stand out, highest shrunken rate first.</param>
    /// <param name="fleet">The fleet.</param>
    /// <param name="choice">What the reader chose.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(int count, IReadOnlyList<string> called, RateFigures fleet, FailureChoice choice)
    {
        ArgumentNullException.ThrowIfNull(called);
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(choice);
        if (fleet.PerUnitYear is not { } rate)
        {
            return Texts.NothingWatched;
        }

        (string Name, string Value) average =
            ("average", Fill.In(choice.By == RateGroup.PartNumber ? Texts.PartFails : Texts.UnitFails, ("rate", Text.Number(rate.Value))));
        if (called.Count == 0)
        {
            return Texts.NoneStandsOut[choice.By].For(count, average);
        }

        string names = string.Join(", ", called.Take(MostNamed));
        return Texts.StandOut[choice.By].For(
            called.Count, average, ("all", Text.Count(count)), ("names", called.Count > MostNamed ? Fill.In(Texts.AndOthers, ("names", names)) : names));
    }

    /// <summary>How much true rates differ.</summary>
    /// <param name="fleet">The fit.</param>
    /// <param name="by">What rates are told apart by.</param>
    /// <returns>One sentence.</returns>
    public static string Spread(FleetRate fleet, RateGroup by)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        return fleet.Spread is { } spread
            ? Fill.In(Texts.Spread[by], ("share", Text.Share(spread.Variation)), ("years", Text.Number(spread.Rate)))
            : Texts.NoSpread[by];
    }

    /// <summary>What a steadied rate is, told of the row with the highest.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Two or three sentences; null where there is no row.</returns>
    public static string? Here(RatesReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (RatesChart.Drawn(report) is not [{ Figures.PerUnitYear: { } raw } row, ..])
        {
            return null;
        }

        string rates = (report.By == RateGroup.PartNumber ? Texts.PartsHere : Texts.Here).For(
            row.Figures.Failures, ("name", RatesChart.Name(report.By, row)), ("years", Text.Number(row.Figures.UnitYears)), ("raw", Text.Number(raw.Value)),
            ("steadied", Text.Estimated(row.Shrunken)));
        return row.RatioToOthers is { } ratio
            ? rates + " " + Fill.In(Texts.ComparedHere, ("ratio", Text.Estimated(ratio)), ("chance", Text.Share(row.ChanceWorse)))
            : rates;
    }
}
