using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>One stretch [<paramref name="From"/>, <paramref name="To"/>) of a window with one cause.</summary>
/// <param name="From">First instant.</param>
/// <param name="To">First instant after it, later than <paramref name="From"/>.</param>
/// <param name="Cause">What the stretch is charged to.</param>
public readonly record struct CauseSpan(Instant From, Instant To, Cause Cause)
{
    /// <summary>Elapsed time.</summary>
    public Duration Length => To - From;
}

/// <summary>What became of a wash that was due.</summary>
public enum ObligationResult
{
    /// <summary>Kept: a wash that counts was credited to it by the deadline.</summary>
    OnTime,

    /// <summary>A wash that counts closed it after its deadline.</summary>
    Late,

    /// <summary>No wash that counts has closed it by the end of the window.</summary>
    Missed,

    /// <summary>Not kept, but the unit was silent at the deadline: nobody can say; not counted as due.</summary>
    Unknown,

    /// <summary>The unit was out of service when it fell due; not counted as due.</summary>
    Excused,
}

/// <summary>One wash that was due.</summary>
/// <param name="Day">Trading day at whose end it fell due, or in which it fell due under an hours rule.</param>
/// <param name="Start">Begin of its period; attempts before that say nothing about it.</param>
/// <param name="Due">When it fell due.</param>
/// <param name="Deadline">End of the grace; a wash that ends at this very instant is on time.</param>
/// <param name="Result">What became of it.</param>
/// <param name="CreditedWashEnd">End of the wash that kept it; null when none did.</param>
/// <param name="ClosedAt">End of the wash that kept it or closed it late; null while none has.</param>
public sealed record Obligation(
    LocalDate Day, Instant Start, Instant Due, Instant Deadline, ObligationResult Result, Instant? CreditedWashEnd, Instant? ClosedAt)
{
    /// <summary>Whether it counts as due: neither unknown nor excused.</summary>
    public bool IsJudged => Result is not (ObligationResult.Unknown or ObligationResult.Excused);
}

/// <summary>A stretch between the ends of two washes that count.</summary>
/// <param name="From">End of the earlier wash, or the begin of service or of the window where no earlier one is known.</param>
/// <param name="To">End of the later wash, or the end of the window.</param>
/// <param name="InService">Elapsed time less the time in which the site was closed or the unit out of service.</param>
/// <param name="StartIsKnown">False when no wash before the window is known, so that the true gap may be longer.</param>
public readonly record struct WashGap(Instant From, Instant To, Duration InService, bool StartIsKnown)
{
    /// <summary>Elapsed time.</summary>
    public Duration Elapsed => To - From;
}

/// <summary>The figures of one unit and rule over a window.</summary>
/// <param name="Due">Washes whose deadline lies in (from, to], without the unknown and the excused.</param>
/// <param name="OnTime">Those of them that were kept.</param>
/// <param name="Unknown">Washes left out because the unit was silent at the deadline.</param>
/// <param name="Excused">Washes left out because the unit was out of service when they fell due.</param>
/// <param name="ByCause">Time by cause; causes without time are absent. Adds up to the window.</param>
/// <param name="LongestGap">Longest stretch between washes that count, by elapsed time.</param>
/// <param name="LongestGapInService">Longest stretch between washes that count, by time in service on open days.</param>
public sealed record CleaningSummary(
    int Due,
    int OnTime,
    int Unknown,
    int Excused,
    IReadOnlyDictionary<Cause, Duration> ByCause,
    WashGap LongestGap,
    WashGap LongestGapInService)
{
    /// <summary>Share of due washes that were kept, 0 to 1; null when none was due.</summary>
    public double? OnTimeShare => Due == 0 ? null : (double)OnTime / Due;

    /// <summary>Time in order or overdue: the window less closed, silent, out of service and without a rule.</summary>
    public Duration Judged => Total(c => c.IsJudged());

    /// <summary>Time overdue, whatever the cause.</summary>
    public Duration Overdue => Total(c => c.IsOverdue());

    /// <summary>Share of the judged time in which no wash was overdue, 0 to 1; null when no time was judged.</summary>
    public double? TimeWithinShare => Judged == Duration.Zero ? null : Of(Cause.InOrder) / Judged;

    /// <summary>Hours by cause, for printing.</summary>
    public IReadOnlyDictionary<Cause, double> HoursByCause => ByCause.ToDictionary(p => p.Key, p => p.Value.TotalHours);

    /// <summary>Time charged to one cause; zero when there was none.</summary>
    /// <param name="cause">Any cause.</param>
    public Duration Of(Cause cause) => ByCause.GetValueOrDefault(cause, Duration.Zero);

    private Duration Total(Func<Cause, bool> which) =>
        ByCause.Where(p => which(p.Key)).Aggregate(Duration.Zero, (sum, p) => sum + p.Value);
}

/// <summary>What happened to one unit under one rule in a window [from, to).</summary>
/// <param name="Window">The window asked for.</param>
/// <param name="Spans">Stretches in order; they follow each other without hole or overlap from the window's start to its end.</param>
/// <param name="Obligations">Washes whose deadline lies in (from, to], in order of deadline.</param>
/// <param name="Gaps">Stretches between washes that count, from the last one before the window; the last one ends with the window.</param>
/// <param name="Summary">The figures.</param>
public sealed record CleaningTimeline(
    Interval Window,
    IReadOnlyList<CauseSpan> Spans,
    IReadOnlyList<Obligation> Obligations,
    IReadOnlyList<WashGap> Gaps,
    CleaningSummary Summary);
