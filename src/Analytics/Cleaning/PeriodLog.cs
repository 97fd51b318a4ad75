using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>What the open period of a run has come to so far; immutable.</summary>
/// <param name="From">Its begin.</param>
/// <param name="LastWashBefore">End of the last wash that counts at or before it.</param>
/// <param name="FirstCause">Cause at its begin.</param>
/// <param name="Changes">Changes of cause since, in order.</param>
/// <param name="Judged">Washes judged whose deadline comes after <paramref name="From"/>, also ones kept whose deadline is to come.</param>
/// <param name="CountedWashEnds">Ends of washes that count since, in order.</param>
internal sealed record OpenPeriod(
    Instant From, Instant? LastWashBefore, Cause FirstCause, IReadOnlyList<CauseChange> Changes, IReadOnlyList<JudgedWash> Judged,
    IReadOnlyList<Instant> CountedWashEnds);

/// <summary>Gathers what a clock tells into periods.</summary>
/// <param name="from">The period to go on with.</param>
internal sealed class PeriodLog(OpenPeriod from) : IObligationLog
{
    private readonly List<CauseChange> _changes = [.. from.Changes];
    private readonly List<JudgedWash> _judged = [.. from.Judged];
    private readonly List<Instant> _ends = [.. from.CountedWashEnds];
    private Instant _from = from.From;
    private Instant? _lastBefore = from.LastWashBefore;
    private Cause _first = from.FirstCause;

    public Instant From => _from;

    public OpenPeriod Open => new(_from, _lastBefore, _first, [.. _changes], [.. _judged], [.. _ends]);

    public void Kept(DueWash wash, Instant washEnd) => _judged.Add(new JudgedWash(wash.Deadline, ObligationResult.OnTime));

    public void NotKept(DueWash wash, bool unknown) =>
        _judged.Add(new JudgedWash(wash.Deadline, unknown ? ObligationResult.Unknown : ObligationResult.Missed));

    public void ClosedLate(Instant washEnd) => _ends.Add(washEnd);

    public void Change(Instant at, Cause cause)
    {
        if (at <= _from)
        {
            _first = cause;
        }
        else
        {
            _changes.Add(new CauseChange(at, cause));
        }
    }

    /// <summary>The period up to an instant that everything told so far lies at or before.</summary>
    /// <param name="to">The instant.</param>
    /// <param name="excused">Washes that were due to nobody in it.</param>
    public CleaningPeriod PeriodTo(Instant to, IEnumerable<JudgedWash> excused) => new(
        _from, to, _lastBefore, _first, [.. _changes.Where(change => change.At < to)],
        [.. _judged.Where(wash => wash.Deadline <= to).Concat(excused)], [.. _ends.Where(end => end <= to)]);

    /// <summary>Begins the next period.</summary>
    /// <param name="at">Its begin, the end of the last one.</param>
    /// <param name="cause">Cause at it.</param>
    /// <param name="lastWash">End of the last wash that counts at or before it.</param>
    public void BeginNext(Instant at, Cause cause, Instant? lastWash)
    {
        _judged.RemoveAll(wash => wash.Deadline <= at);
        _changes.Clear();
        _ends.Clear();
        (_from, _first, _lastBefore) = (at, cause, lastWash);
    }
}
