using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines for whoever manages the service.</summary>
public static class ServiceLines
{
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
        "See what is behind it",
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
            signs.Units == 1 ? rows[0].Unit + " at " + rows[0].SiteName + " washes worse than it used to." : Text.Counted(signs.Units, "oven") + " wash worse than they used to.",
            "A weak pump shows in its washes before the oven locks out. " + (signs.Units == 1 ? rows[0].Sign.Sentence : "The newest signs come first."),
            rows.Min(row => row.Sign.CalledAt),
            null,
            signs.Units,
            signs.Units == 1 ? [] : [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.SiteName + ", " + Text.Ago(row.Sign.CalledAt, asOf), Urls.UnitSigns(row.Unit)))],
            signs.Units == 1 ? "See its washes" : "See all " + Text.Count(signs.Units),
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
            Text.Counted(rows, "row was", "rows were") + " refused at the door.",
            "They broke a rule and were kept aside; nothing is lost. Mend and send them again.",
            null,
            null,
            rows,
            [.. bySource.OrderByDescending(pair => pair.Value).Take(TodayLine.MostItems).Select(pair => new TodayItem(pair.Key, Text.Counted(pair.Value, "row"), Urls.RefusedRowsOf(pair.Key)))],
            "See each with its reason",
            Urls.RefusedRows);
    }
}
