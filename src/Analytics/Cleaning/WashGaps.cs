using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Stretches between the ends of washes that count.</summary>
internal static class WashGaps
{
    public static IReadOnlyList<WashGap> Of(RuleFrame frame, IReadOnlyList<Wash> washes, Interval window)
    {
        Instant[] ends = [.. washes.Where(w => w.CountsFor(frame.Rule.Grade)).Select(w => w.DecidedAt).Where(e => e < window.End).Order()];
        Instant[] before = [.. ends.Where(e => e <= window.Start)];
        (Instant from, bool known) = before.Length > 0 ? (before[^1], true)
            : frame.Commissioned is { } start ? (Instant.Min(start, window.End), true)
            : (window.Start, false);
        List<WashGap> gaps = [];
        foreach (Instant to in ends.Where(e => e > window.Start && e > from).Append(window.End))
        {
            gaps.Add(new WashGap(from, to, InService(frame, from, to), known));
            (from, known) = (to, true);
        }

        return gaps;
    }

    /// <summary>Elapsed time in [from, to) less the time in which the site was closed or the unit out of service.</summary>
    private static Duration InService(RuleFrame frame, Instant from, Instant to)
    {
        Duration sum = Duration.Zero;
        for (TradingDay day = frame.Calendar.DayOf(from); day.Start < to; day = frame.Calendar.Day(day.Date.PlusDays(1)))
        {
            if (day.IsOpen)
            {
                (Instant begin, Instant end) = (Instant.Max(from, day.Start), Instant.Min(to, day.End));
                sum += end - begin - frame.OutOfService.Within(begin, end);
            }
        }

        return sum;
    }
}
