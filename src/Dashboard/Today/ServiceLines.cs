using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines for whoever manages the service.</summary>
public static class ServiceLines
{
    private static ServiceLineTexts Texts => TodayTexts.Now.Service;

    /// <summary>What fails again, or more often than chance explains.</summary>
    /// <param name="decisions">What needs a decision.</param>
    public static IEnumerable<TodayLine> Failing(IEnumerable<FailureDecision> decisions) => decisions.Where(decision => decision.StandsOut).Select(decision => new TodayLine(
        TodayRole.Service,
        decision.Sentence,
        string.Join(' ', [.. decision.Evidence.Take(1), Text.Sentence(decision.Action)]),
        null,
        null,
        1,
        [],
        Texts.BehindIt,
        decision.Records));

    /// <summary>Ovens whose washes are getting worse.</summary>
    /// <param name="signs">The signs that stand.</param>
    /// <param name="asOf">The instant from which lengths are counted back.</param>
    public static TodayLine? Worse(EarlySignsReport signs, DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(signs);
        UnitSign[] rows = [.. signs.Rows.DistinctBy(row => row.Unit)];
        return rows.Length == 0 ? null : new TodayLine(
            TodayRole.Service,
            Texts.Worse.For(signs.Units, ("unit", rows[0].Unit), ("site", rows[0].SiteName)),
            Fill.In(Texts.WorseSays, ("sign", signs.Units == 1 ? rows[0].Sign.Sentence : Texts.NewestFirst)),
            rows.Min(row => row.Sign.CalledAt),
            null,
            signs.Units,
            signs.Units == 1 ? [] : [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.SiteName + ", " + Text.Ago(row.Sign.CalledAt, asOf), Urls.UnitSigns(row.Unit)))],
            signs.Units == 1 ? Texts.SeeWashes : Fill.In(TodayTexts.Now.Units.SeeAll, ("count", Text.Count(signs.Units))),
            signs.Units == 1 ? Urls.UnitSigns(rows[0].Unit) : Urls.Cleaning() + "#worse");
    }

    /// <summary>Rows refused at the door.</summary>
    /// <param name="bySource">How many, by source.</param>
    public static TodayLine? Refused(IReadOnlyDictionary<string, int> bySource)
    {
        ArgumentNullException.ThrowIfNull(bySource);
        int rows = bySource.Values.Sum();
        return rows <= 0 ? null : new TodayLine(
            TodayRole.Service,
            Texts.Refused.Sentence.For(rows),
            Texts.Refused.Reason,
            null,
            null,
            rows,
            [.. bySource.OrderByDescending(pair => pair.Value).Take(TodayLine.MostItems).Select(pair => new TodayItem(pair.Key, Texts.Rows.For(pair.Value), Urls.RefusedRowsOf(pair.Key)))],
            Texts.Refused.Action,
            Urls.RefusedRows);
    }
}
