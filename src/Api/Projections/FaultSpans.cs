namespace Washwear.Api.Projections;

/// <summary>A fault record or a record that one was cleared, of one unit and code.</summary>
/// <param name="AtMs">When it was raised or cleared, milliseconds UTC.</param>
/// <param name="Raised">Raised; else cleared.</param>
/// <param name="Seq">Number in the ledger.</param>
/// <param name="Source">Source.</param>
/// <param name="Key">Key.</param>
/// <param name="OwnClearedMs">When it was cleared, if the fault record says so itself.</param>
internal readonly record struct FaultEvent(long AtMs, bool Raised, long Seq, string Source, string Key, long? OwnClearedMs);

/// <summary>A fault from raised to cleared.</summary>
/// <param name="Seq">Number of the fault record.</param>
/// <param name="RaisedMs">When it was raised, milliseconds UTC.</param>
/// <param name="ClearedMs">When it was cleared; null: it is still open.</param>
internal readonly record struct FaultSpan(long Seq, long RaisedMs, long? ClearedMs);

/// <summary>Pairs faults with what cleared them. The order of arrival does not matter.</summary>
/// <remarks>A clearing closes every open fault of its code, for a unit that reports the same fault twice has it once. A fault that says
/// itself when it was cleared keeps that. At the same instant clearing comes before raising, since a unit that clears and raises in
/// one second has the fault; only a clearing that found nothing open closes the fault raised at that instant.</remarks>
internal static class FaultSpans
{
    /// <summary>The spans, in the order in which they were raised.</summary>
    /// <param name="events">All effective events of one unit and code, in any order.</param>
    public static IReadOnlyList<FaultSpan> Derive(IEnumerable<FaultEvent> events)
    {
        var spans = new List<FaultSpan>();
        var open = new List<int>();
        long? idleClearingMs = null;
        foreach (FaultEvent entry in InOrder(events))
        {
            if (entry.Raised)
            {
                long? cleared = entry.OwnClearedMs ?? (idleClearingMs == entry.AtMs ? entry.AtMs : null);
                spans.Add(new FaultSpan(entry.Seq, entry.AtMs, cleared));
                if (cleared is null)
                {
                    open.Add(spans.Count - 1);
                }

                continue;
            }

            idleClearingMs = open.Count == 0 ? entry.AtMs : null;
            foreach (int index in open)
            {
                spans[index] = spans[index] with { ClearedMs = entry.AtMs };
            }

            open.Clear();
        }

        return spans;
    }

    private static IOrderedEnumerable<FaultEvent> InOrder(IEnumerable<FaultEvent> events) => events
        .OrderBy(entry => entry.AtMs)
        .ThenBy(entry => entry.Raised)
        .ThenBy(entry => entry.Source, StringComparer.Ordinal)
        .ThenBy(entry => entry.Key, StringComparer.Ordinal);
}
