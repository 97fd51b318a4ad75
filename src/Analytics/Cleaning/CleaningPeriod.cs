using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A wash that was due, judged.</summary>
/// <param name="Deadline">End of its grace.</param>
/// <param name="Result">Kept (on time), not kept (missed, also when a later wash closed it), unknown or excused.</param>
public readonly record struct JudgedWash(Instant Deadline, ObligationResult Result);

/// <summary>
/// What one unit under one rule came to in a stretch of time: enough to count any window in it without its records. Immutable.
/// </summary>
public sealed class CleaningPeriod
{
    internal CleaningPeriod(
        Instant from, Instant to, Instant? lastWashBefore, Cause firstCause, IReadOnlyList<CauseChange> changes, IReadOnlyList<JudgedWash> judged,
        IReadOnlyList<Instant> countedWashEnds)
    {
        (From, To, LastWashBefore, FirstCause) = (from, to, lastWashBefore, firstCause);
        (Changes, Judged, CountedWashEnds) = (changes, judged, countedWashEnds);
    }

    /// <summary>Its begin.</summary>
    public Instant From { get; }

    /// <summary>Its end, later than <see cref="From"/>.</summary>
    public Instant To { get; }

    /// <summary>End of the last wash that counts at or before <see cref="From"/>; null when none is known.</summary>
    public Instant? LastWashBefore { get; }

    /// <summary>What the stretch is charged to from <see cref="From"/> to the first change.</summary>
    public Cause FirstCause { get; }

    /// <summary>Washes whose deadline lies in (from, to], in any order.</summary>
    public IReadOnlyList<JudgedWash> Judged { get; }

    /// <summary>Ends of washes that count in (from, to], in order.</summary>
    public IReadOnlyList<Instant> CountedWashEnds { get; }

    /// <summary>Changes of cause within (from, to), in order.</summary>
    internal IReadOnlyList<CauseChange> Changes { get; }

    internal static CleaningPeriod Read(ref CompactReader reader)
    {
        (Instant from, Instant to, Instant? lastBefore) = (reader.At(), reader.At(), reader.MaybeAt());
        var first = (Cause)reader.Number();
        var changes = new CauseChange[reader.Number()];
        for (int i = 0; i < changes.Length; i++)
        {
            changes[i] = new CauseChange(reader.At(), (Cause)reader.Number());
        }

        var judged = new JudgedWash[reader.Number()];
        for (int i = 0; i < judged.Length; i++)
        {
            judged[i] = new JudgedWash(reader.At(), (ObligationResult)reader.Number());
        }

        var ends = new Instant[reader.Number()];
        for (int i = 0; i < ends.Length; i++)
        {
            ends[i] = reader.At();
        }

        return new CleaningPeriod(from, to, lastBefore, first, changes, judged, ends);
    }

    internal void Write(CompactWriter writer)
    {
        writer.At(From);
        writer.At(To);
        writer.MaybeAt(LastWashBefore);
        writer.Number((long)FirstCause);
        writer.All(Changes, change =>
        {
            writer.At(change.At);
            writer.Number((long)change.Cause);
        });
        writer.All(Judged, wash =>
        {
            writer.At(wash.Deadline);
            writer.Number((long)wash.Result);
        });
        writer.All(CountedWashEnds, writer.At);
    }
}

/// <summary>From an instant on another cause holds.</summary>
/// <param name="At">The instant.</param>
/// <param name="Cause">The cause.</param>
internal readonly record struct CauseChange(Instant At, Cause Cause);
