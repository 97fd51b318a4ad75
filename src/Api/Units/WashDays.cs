using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>What happened on each trading day of a unit's calendar.</summary>
public static class WashDays
{
    /// <summary>The trading days of a stretch of dates, oldest first.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="history">Its records.</param>
    /// <param name="asOf">The last trading day shown is the one in which this instant lies.</param>
    /// <param name="days">How many trading days, above 0.</param>
    /// <returns>One entry a date; a wash belongs to the trading day in which it ended, or started where no end is known.</returns>
    public static IReadOnlyList<WashDay> Of(UnitTerms unit, UnitHistory history, Instant asOf, int days)
    {
        LocalDate last = unit.Calendar.DayOf(asOf).Date;
        ILookup<LocalDate, Wash> washes = history.Washes.ToLookup(wash => unit.Calendar.DayOf(wash.DecidedAt).Date);
        Instant[] signs = [.. Signs(history).Order()];
        return
        [
            .. Enumerable.Range(0, days).Select(back => last.PlusDays(back - days + 1)).Select(date =>
            {
                TradingDay day = unit.Calendar.Day(date);
                return new WashDay(date.ToDateOnly(), Kind(unit, day, [.. washes[date]], signs), washes[date].Count(wash => wash.Outcome != WashOutcome.Refused));
            }),
        ];
    }

    private static WashDayKind Kind(UnitTerms unit, TradingDay day, IReadOnlyList<Wash> washes, Instant[] signs)
    {
        ProgrammeGrade asked = unit.RulesOn(day.Date).Select(rule => (ProgrammeGrade?)rule.Rule.Grade).Min() ?? ProgrammeGrade.Standard;
        return washes.Any(wash => wash.CountsFor(asked)) ? WashDayKind.Counted
            : washes.Any(wash => wash.Outcome == WashOutcome.Completed) ? WashDayKind.DidNotCount
            : washes.Any(wash => wash.Outcome != WashOutcome.Refused) ? WashDayKind.Stopped
            : washes.Count > 0 ? WashDayKind.Refused
            : !InService(unit, day) ? WashDayKind.OutOfService
            : !day.IsOpen ? WashDayKind.Closed
            : Silent(unit, day, signs) ? WashDayKind.Silent
            : WashDayKind.None;
    }

    private static bool InService(UnitTerms unit, TradingDay day) =>
        (unit.Service.CommissionedOn is not { } from || day.Date >= from)
        && (unit.Service.DecommissionedOn is not { } to || day.Date < to)
        && !unit.Service.OutOfService.Any(period => period.From < day.End && (period.To ?? Instant.MaxValue) >= day.End);

    // Silent: nothing heard on the day, and nothing within the reporting time before its end.
    private static bool Silent(UnitTerms unit, TradingDay day, Instant[] signs)
    {
        if (unit.Service.ReportingTime is not { } reporting)
        {
            return false;
        }

        int next = Array.BinarySearch(signs, day.End);
        int before = (next < 0 ? ~next : next) - 1;
        return before < 0 || signs[before] + reporting <= day.End;
    }

    private static IEnumerable<Instant> Signs(UnitHistory history) =>
    [
        .. history.HeardAt,
        .. history.Washes.Select(wash => wash.StartedAt),
        .. history.Washes.Select(wash => wash.DecidedAt),
        .. history.Faults.Select(fault => fault.RaisedAt),
        .. history.Faults.Where(fault => fault.ClearedAt is not null).Select(fault => fault.ClearedAt!.Value),
    ];
}
