namespace Washwear.Api.Equipment;

/// <summary>A run of a thing, such as a cleaning or an alarm, as far as it is known.</summary>
/// <param name="StartMs">When it began.</param>
/// <param name="EndMs">When it ended; null: it goes on.</param>
/// <param name="ToldAs">Key of the record that told of it otherwise; null: none did.</param>
internal sealed record ChangedRun(long StartMs, long? EndMs, string? ToldAs);

/// <summary>Orders what was seen by its instants, whatever the order of arrival, and says which run that changes.</summary>
/// <remarks>Only changes are kept. What is seen and agrees with the change before it says nothing new. What comes late between two changes agrees
/// with the second and moves it to the earlier instant: a run begins, or ends, sooner. What comes late before all changes, or newest, is one more
/// change. Later than <see cref="LatestArrival"/> after newer changes nothing is believed any more.</remarks>
/// <param name="queries">What is known.</param>
internal sealed class EquipmentRuns(EquipmentQueries queries)
{
    /// <summary>How long after newer changes an observation may still come.</summary>
    public static readonly TimeSpan LatestArrival = TimeSpan.FromDays(7);

    private static readonly TimeSpan Kept = TimeSpan.FromDays(30);

    /// <summary>Notes what was seen.</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="seen">What was seen.</param>
    /// <returns>The run that is other than it was known to be; null: none.</returns>
    public async Task<ChangedRun?> NoteAsync(int unitId, Observation seen)
    {
        long at = seen.At.ToUnixTimeMilliseconds();
        if (await queries.LatestMsAsync(unitId, seen.Channel) is { } latest && latest - at > LatestArrival.TotalMilliseconds)
        {
            return null;
        }

        KnownChange? before = await queries.BeforeAsync(unitId, seen.Channel, at);
        if (before is not null && (before.AtMs == at || IsActive(before) == seen.Active))
        {
            return null;
        }

        KnownChange? after = await queries.AfterAsync(unitId, seen.Channel, at);
        bool movesNext = after is not null && IsActive(after) == seen.Active;
        if (movesNext)
        {
            await queries.RemoveAsync(unitId, seen.Channel, after!.AtMs);
        }

        await queries.AddAsync(unitId, seen.Channel, new KnownChange(at, seen.Active ? 1 : 0, movesNext ? after!.RecordKey : null));
        if (before is not null)
        {
            await queries.ForgetAsync(unitId, seen.Channel, before.AtMs - (long)Kept.TotalMilliseconds);
        }

        KnownChange? end = movesNext && seen.Active ? await queries.AfterAsync(unitId, seen.Channel, at) : after;
        return seen.Active ? new ChangedRun(at, end?.AtMs, movesNext ? after!.RecordKey : null)
            : before is not null ? new ChangedRun(before.AtMs, at, before.RecordKey)
            : null;
    }

    private static bool IsActive(KnownChange change) => change.Active != 0;
}
