using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// The figures of one unit and rule over a window, counted from periods: the same as <see cref="CauseTimeline.Compute"/> gives from all
/// records. Immutable.
/// </summary>
public sealed class CleaningTally
{
    private static readonly int Causes = Enum.GetValues<Cause>().Length;
    private readonly long[] _ticksByCause;

    private CleaningTally(long[] ticksByCause, int due, int onTime, int unknown, int excused, WashGap longestGap)
    {
        _ticksByCause = ticksByCause;
        (Due, OnTime, Unknown, Excused, LongestGap) = (due, onTime, unknown, excused, longestGap);
    }

    /// <summary>Washes whose deadline lies in (from, to], without the unknown and the excused.</summary>
    public int Due { get; }

    /// <summary>Those of them that were kept.</summary>
    public int OnTime { get; }

    /// <summary>Washes left out because the unit was silent at the deadline.</summary>
    public int Unknown { get; }

    /// <summary>Washes left out because the unit was out of service when they fell due.</summary>
    public int Excused { get; }

    /// <summary>Longest stretch between washes that count, by elapsed time; the last one ends with the window. Its time in service is not
    /// told (zero).</summary>
    public WashGap LongestGap { get; }

    /// <summary>Time in order or overdue: the window less closed, silent, out of service and without a rule.</summary>
    public Duration Judged => Total(CauseMeaning.IsJudged);

    /// <summary>Counts a window.</summary>
    /// <param name="periods">Periods in order that follow each other without a hole and hold the window.</param>
    /// <param name="window">The window [from, to), with both ends and longer than nothing.</param>
    /// <param name="commissioned">First instant in service: where no earlier wash is known, the first gap begins there.</param>
    /// <exception cref="ArgumentException">The periods do not hold the window.</exception>
    public static CleaningTally Of(IReadOnlyList<CleaningPeriod> periods, Interval window, Instant? commissioned)
    {
        if (periods.Count == 0 || periods[0].From > window.Start || periods[^1].To < window.End)
        {
            throw new ArgumentException($"The periods do not hold the window {window}.", nameof(periods));
        }

        (Instant from, Instant to) = (window.Start, window.End);
        var ticks = new long[Causes];
        Span<int> results = stackalloc int[Enum.GetValues<ObligationResult>().Length];
        foreach (CleaningPeriod period in periods)
        {
            Charge(period, from, to, ticks);
            foreach (JudgedWash wash in period.Judged)
            {
                results[(int)wash.Result] += wash.Deadline > from && wash.Deadline <= to ? 1 : 0;
            }
        }

        int onTime = results[(int)ObligationResult.OnTime];
        int missed = results[(int)ObligationResult.Missed] + results[(int)ObligationResult.Late];
        return new CleaningTally(
            ticks, onTime + missed, onTime, results[(int)ObligationResult.Unknown], results[(int)ObligationResult.Excused],
            Longest(periods, from, to, commissioned));
    }

    /// <summary>Time charged to one cause; zero when there was none.</summary>
    /// <param name="cause">Any cause.</param>
    public Duration Of(Cause cause) => Duration.FromTicks(_ticksByCause[(int)cause]);

    private static void Charge(CleaningPeriod period, Instant from, Instant to, long[] ticks)
    {
        Instant begin = Instant.Max(period.From, from);
        Instant end = Instant.Min(period.To, to);
        Cause cause = period.FirstCause;
        foreach (CauseChange change in period.Changes)
        {
            if (change.At >= end)
            {
                break;
            }

            if (change.At > begin)
            {
                ticks[(int)cause] += (change.At - begin).BclCompatibleTicks;
                begin = change.At;
            }

            cause = change.Cause;
        }

        ticks[(int)cause] += end > begin ? (end - begin).BclCompatibleTicks : 0;
    }

    private static WashGap Longest(IReadOnlyList<CleaningPeriod> periods, Instant from, Instant to, Instant? commissioned)
    {
        Instant? before = periods[0].LastWashBefore;
        List<Instant> ends = [];
        foreach (Instant end in periods.SelectMany(period => period.CountedWashEnds))
        {
            if (end <= from)
            {
                before = end;
            }
            else if (end < to)
            {
                ends.Add(end);
            }
        }

        Instant begin = before ?? (commissioned is { } start ? Instant.Min(start, to) : from);
        bool known = before is not null || commissioned is not null;
        WashGap? longest = null;
        foreach (Instant end in ends.Append(to))
        {
            if (end > begin || end == to)
            {
                longest = Longer(longest, new WashGap(begin, end, Duration.Zero, known));
                (begin, known) = (end, true);
            }
        }

        return longest!.Value;
    }

    private static WashGap Longer(WashGap? one, WashGap other) => one is { } first && first.Elapsed >= other.Elapsed ? first : other;

    private Duration Total(Func<Cause, bool> which)
    {
        long ticks = 0;
        for (int cause = 0; cause < _ticksByCause.Length; cause++)
        {
            ticks += which((Cause)cause) ? _ticksByCause[cause] : 0;
        }

        return Duration.FromTicks(ticks);
    }
}
