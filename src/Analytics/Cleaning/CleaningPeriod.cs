using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// What one unit under one rule came to in a stretch of time: enough to count any window in it without its records (<see
/// cref="TallyBuilder"/>). Immutable. Instants are ticks of 100 ns since 1970-01-01T00:00:00Z.
/// </summary>
public sealed class CleaningPeriod
{
    internal CleaningPeriod(PeriodData data) => Data = data;

    /// <summary>Its begin.</summary>
    public Instant From => Instant.FromUnixTimeTicks(Data.From);

    /// <summary>Its end, later than <see cref="From"/>.</summary>
    public Instant To => Instant.FromUnixTimeTicks(Data.To);

    internal PeriodData Data { get; }
}

/// <summary>The content of a period.</summary>
/// <param name="From">Its begin.</param>
/// <param name="To">Its end.</param>
/// <param name="LastWashBefore">End of the last wash that counts at or before its begin; null when none is known.</param>
/// <param name="FirstCause">What it is charged to from its begin to the first change.</param>
/// <param name="ChangedAt">Instants within it at which the cause changed, in order.</param>
/// <param name="ChangedTo">The causes from those instants on.</param>
/// <param name="Deadlines">Deadlines after its begin of the washes that were judged in it, in any order; while it is open, also ones to
/// come.</param>
/// <param name="Results">What became of those washes; one that a later wash closed is missed.</param>
/// <param name="WashEnds">Ends in (from, to] of the washes that count, in order.</param>
internal readonly record struct PeriodData(
    long From, long To, long? LastWashBefore, Cause FirstCause, ArraySegment<long> ChangedAt, ArraySegment<Cause> ChangedTo,
    ArraySegment<long> Deadlines, ArraySegment<ObligationResult> Results, ArraySegment<long> WashEnds)
{
    /// <summary>The part up to an instant, with washes that were due while the unit was out of service.</summary>
    public PeriodData KnownTo(Instant at, Instant[] excused)
    {
        PeriodData known = this with { To = at.ToUnixTimeTicks() };
        return excused.Length == 0 ? known : known with
        {
            Deadlines = (long[])[.. Deadlines, .. excused.Select(deadline => deadline.ToUnixTimeTicks())],
            Results = (ObligationResult[])[.. Results, .. excused.Select(_ => ObligationResult.Excused)],
        };
    }

    /// <summary>What follows an instant after which nothing is known yet: only the cause goes on.</summary>
    public PeriodData After(Instant at) => new PeriodLog(at).Open with
    {
        FirstCause = ChangedTo.Count > 0 ? ChangedTo[^1] : FirstCause,
    };

    public void Write(CompactWriter writer)
    {
        writer.Ticks(From);
        writer.Ticks(To);
        writer.Number(LastWashBefore is null ? 0 : 1);
        if (LastWashBefore is { } last)
        {
            writer.Ticks(last);
        }

        writer.Number((long)FirstCause);
        writer.Number(ChangedAt.Count);
        for (int i = 0; i < ChangedAt.Count; i++)
        {
            writer.Ticks(ChangedAt[i]);
            writer.Number((long)ChangedTo[i]);
        }

        writer.Number(Deadlines.Count);
        for (int i = 0; i < Deadlines.Count; i++)
        {
            writer.Ticks(Deadlines[i]);
            writer.Number((long)Results[i]);
        }

        writer.All(WashEnds, writer.Ticks);
    }
}

/// <summary>Reads periods into arrays that it uses again for the next one. Not safe for concurrent use.</summary>
internal sealed class PeriodBuffer
{
    private long[] _changedAt = [];
    private Cause[] _changedTo = [];
    private long[] _deadlines = [];
    private ObligationResult[] _results = [];
    private long[] _washEnds = [];

    /// <summary>Reads one period; what the last call gave is overwritten. A single period takes no more memory than it needs.</summary>
    public PeriodData Read(ref CompactReader reader)
    {
        (long from, long to) = (reader.Ticks(), reader.Ticks());
        long? lastBefore = reader.Number() == 0 ? null : reader.Ticks();
        var first = (Cause)reader.Number();
        int changes = (int)reader.Number();
        Grow(ref _changedAt, changes);
        Grow(ref _changedTo, changes);
        for (int i = 0; i < changes; i++)
        {
            (_changedAt[i], _changedTo[i]) = (reader.Ticks(), (Cause)reader.Number());
        }

        int due = (int)reader.Number();
        Grow(ref _deadlines, due);
        Grow(ref _results, due);
        for (int i = 0; i < due; i++)
        {
            (_deadlines[i], _results[i]) = (reader.Ticks(), (ObligationResult)reader.Number());
        }

        int washes = (int)reader.Number();
        Grow(ref _washEnds, washes);
        for (int i = 0; i < washes; i++)
        {
            _washEnds[i] = reader.Ticks();
        }

        return new PeriodData(
            from, to, lastBefore, first, new(_changedAt, 0, changes), new(_changedTo, 0, changes), new(_deadlines, 0, due),
            new(_results, 0, due), new(_washEnds, 0, washes));
    }

    private static void Grow<T>(ref T[] array, int length)
    {
        if (array.Length < length)
        {
            array = new T[array.Length == 0 ? length : length * 2];
        }
    }
}
