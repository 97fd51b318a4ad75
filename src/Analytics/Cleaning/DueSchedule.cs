using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A wash that is or will be due: period, due instant, end of the grace.</summary>
internal readonly record struct DueWash(LocalDate Day, Instant Start, Instant Due, Instant Deadline);

/// <summary>When washes fall due; knows nothing of washes but the instants it is told.</summary>
internal interface IDueSchedule
{
    /// <summary>True: any wash that counts restarts the schedule. False: only one that comes before the wash in course is due.</summary>
    bool RestartsAtEveryWash { get; }

    /// <summary>The first wash of the rule for this unit.</summary>
    DueWash? First();

    /// <summary>The wash due after <paramref name="last"/> when nobody washes.</summary>
    DueWash? After(DueWash last);

    /// <summary>The wash due after one that ended at <paramref name="washEnd"/> and restarts the schedule.</summary>
    DueWash? AfterWash(Instant washEnd);

    /// <summary>Whether the rule asks for anything at an instant.</summary>
    bool Holds(Instant at);

    /// <summary>How much a counter must rise for a wash to fall due; null when only time counts.</summary>
    double? CounterStep => null;

    /// <summary>A wash that falls due at an instant because the counter passed its step.</summary>
    DueWash At(Instant start, Instant due) => throw new NotSupportedException("This schedule counts time alone.");
}

/// <summary>
/// Every N completed washes or operating hours: a wash falls due at the event that takes the counter to N since the last wash that counts
/// (a completed wash that does not count itself, a meter reading). Each further N make another one due; what passes at one event makes one
/// due.
/// </summary>
internal sealed class CounterSchedule(RuleFrame frame, double step) : IDueSchedule
{
    public bool RestartsAtEveryWash => true;

    public double? CounterStep => step;

    public DueWash? First() => null;

    public DueWash? After(DueWash last) => null;

    public DueWash? AfterWash(Instant washEnd) => null;

    public bool Holds(Instant at) => !(at < frame.RuleFrom) && !(at >= frame.End);

    public DueWash At(Instant start, Instant due) =>
        new(frame.Calendar.DayOf(due).Date, start, due, due + frame.Rule.Grace);
}

/// <summary>
/// Every N open trading days (S1 to S3). A day counts when the site trades on it, the rule holds and its end is in service; the wash is due
/// at the end of the N-th day that counts after the day of the last wash that restarted the schedule.
/// </summary>
internal sealed class TradingDaySchedule(RuleFrame frame, int days, LocalDate firstDay) : IDueSchedule
{
    public bool RestartsAtEveryWash => false;

    public DueWash? First() => AfterDay(firstDay.PlusDays(-1));

    public DueWash? After(DueWash last) => AfterDay(last.Day);

    public DueWash? AfterWash(Instant washEnd) => AfterDay(LocalDate.Max(frame.Calendar.DayOf(washEnd).Date, firstDay.PlusDays(-1)));

    public bool Holds(Instant at) => true;

    private DueWash? AfterDay(LocalDate date)
    {
        Instant? start = null;
        int left = days;
        for (LocalDate d = date.PlusDays(1); frame.Calendar.EverTrades && !(d > frame.LastOwedDay); d = d.PlusDays(1))
        {
            TradingDay day = frame.Calendar.Day(d);
            if (frame.OutOfService.InServiceFrom(day.End) is null)
            {
                return null;
            }

            if (!day.IsOpen || frame.OutOfService.Contains(day.End))
            {
                continue;
            }

            start ??= day.Start;
            if (--left == 0)
            {
                return new DueWash(d, start.Value, day.End, day.End + frame.Rule.Grace);
            }
        }

        return null;
    }
}

/// <summary>
/// Every N elapsed hours since the last wash that counts, or since the begin of service. The clock runs on in closed and out-of-service
/// time, but a wash cannot fall due in it: it falls due when that time ends.
/// </summary>
internal sealed class HoursSchedule(RuleFrame frame, Duration interval, Instant serviceStart) : IDueSchedule
{
    public bool RestartsAtEveryWash => true;

    public DueWash? First() => From(serviceStart);

    public DueWash? After(DueWash last) => From(last.Due);

    public DueWash? AfterWash(Instant washEnd) => From(Instant.Max(washEnd, serviceStart));

    public bool Holds(Instant at) => at >= serviceStart && !(at < frame.RuleFrom);

    private DueWash? From(Instant start)
    {
        Instant due = Instant.Max(start + interval, frame.RuleFrom ?? Instant.MinValue);
        return WhenOpen(due) is { } open && !(open >= frame.End)
            ? new DueWash(frame.Calendar.DayOf(open).Date, start, open, open + frame.Rule.Grace)
            : null;
    }

    private Instant? WhenOpen(Instant at)
    {
        while (frame.Calendar.EverTrades && frame.OutOfService.InServiceFrom(at) is { } inService && !(inService >= frame.End))
        {
            TradingDay day = frame.Calendar.DayOf(inService);
            if (day.IsOpen)
            {
                return inService;
            }

            at = day.End;
        }

        return null;
    }
}
