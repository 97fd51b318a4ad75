using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Under a rule for every trading day, the days whose end fell out of service, listed though nothing was due (S7).</summary>
internal static class ExcusedDays
{
    /// <summary>The days that may have a deadline in a window; others may be among them.</summary>
    public static IEnumerable<Obligation> In(RuleFrame frame, Instant? serviceStart, Interval window)
    {
        if (frame.Rule.Basis is not EveryTradingDays { Days: 1 } || serviceStart is not { } start
            || !frame.OutOfService.AnyWithin(window.Start - frame.Rule.Grace, window.End))
        {
            yield break;
        }

        LocalDate first = LocalDate.Max(frame.FirstOwedDay(start), frame.Calendar.DayOf(window.Start - frame.Rule.Grace).Date.PlusDays(-1));
        for (TradingDay day = frame.Calendar.Day(first); day.End <= window.End; day = frame.Calendar.Day(day.Date.PlusDays(1)))
        {
            if (day.IsOpen && frame.OutOfService.Contains(day.End) && !(day.Date > frame.LastOwedDay))
            {
                yield return new Obligation(
                    day.Date, day.Start, day.End, day.End + frame.Rule.Grace, ObligationResult.Excused, null, null);
            }
        }
    }
}
