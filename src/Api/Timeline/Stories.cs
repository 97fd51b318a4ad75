using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Timeline;

/// <summary>A lockout with all that belongs to it.</summary>
/// <param name="Members">Its records, at least the one of the fault, in the order of time.</param>
/// <param name="RaisedAt">When the fault was raised.</param>
/// <param name="ClearedAt">When no fault stood any more, or the unit washed again though nobody said so; null: it lasts.</param>
/// <param name="Proof">The first try to wash after that; null: none is known.</param>
internal sealed record Story(IReadOnlyList<TimelineRecord> Members, DateTimeOffset RaisedAt, DateTimeOffset? ClearedAt, TimelineRecord? Proof);

/// <summary>
/// Finds lockouts in the records of one unit and tells what belongs to each: from the wash that the fault stopped, through visits, approvals and
/// parts while it stood and up to a day after, to the first try to wash. A fault that was raised before the first record is told piece by piece.
/// </summary>
internal sealed class Stories
{
    private static readonly TimeSpan Before = TimeSpan.FromHours(2);
    private static readonly TimeSpan Behind = TimeSpan.FromHours(24);

    private readonly Dictionary<string, DateTimeOffset?> _open = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<Story> _told = [];
    private List<TimelineRecord> _members = [];
    private DateTimeOffset _raisedAt;
    private DateTimeOffset? _clearedAt;

    private bool IsTelling => _members.Count > 0;

    /// <summary>The lockouts of a unit.</summary>
    /// <param name="records">Its records, in the order of time.</param>
    /// <param name="asOf">Up to when they are known.</param>
    public static IReadOnlyList<Story> Of(IReadOnlyList<TimelineRecord> records, DateTimeOffset asOf)
    {
        var stories = new Stories();
        TimelineRecord? last = null;
        foreach (TimelineRecord record in records.Where(record => !record.IsVoided && record.Kind != Dashboard.Timeline.TimelineKind.Readings))
        {
            stories.Take(record, last);
            last = record;
        }

        stories.Clear(asOf);
        stories.Finish(null);
        return stories._told;
    }

    private void Take(TimelineRecord record, TimelineRecord? last)
    {
        Clear(record.At);
        bool locksOut = record.Row.Type == "fault" && LocksOut(record);
        if (_clearedAt is { } cleared && (locksOut || record.At > cleared + Behind))
        {
            // The first try after it proves it, or not, however long it took.
            Finish(IsTry(record) ? record : null);
            if (!locksOut)
            {
                return;
            }
        }

        if (locksOut)
        {
            Raise(record, last);
        }
        else if (IsTelling)
        {
            Add(record);
        }
    }

    private void Raise(TimelineRecord record, TimelineRecord? last)
    {
        if (!IsTelling)
        {
            _raisedAt = record.At;
            if (last?.Outcome is WashOutcome.StoppedByFault or WashOutcome.Refused && record.At - last.At <= Before && !_told.Any(story => story.Members.Contains(last)))
            {
                _members.Add(last);
            }
        }

        _members.Add(record);
        _open[record.Row.Code!] = record.Row.ClearedMs is { } ms ? DateTimeOffset.FromUnixTimeMilliseconds(ms) : null;
    }

    private void Add(TimelineRecord record)
    {
        if (IsTry(record) && _clearedAt is not null)
        {
            Finish(record);
            return;
        }

        if (IsTry(record) && record.Outcome == WashOutcome.Completed)
        {
            // It washes, though nobody said that the fault was cleared.
            _clearedAt = record.At;
            Finish(record);
            return;
        }

        _members.Add(record);
        if (record.Row.Type == "fault_cleared" && _open.Remove(record.Row.Code!) && _open.Count == 0)
        {
            _clearedAt = record.At;
        }
    }

    // Faults whose record says itself when they were cleared.
    private void Clear(DateTimeOffset now)
    {
        foreach ((string code, DateTimeOffset? at) in _open.Where(pair => pair.Value <= now).OrderBy(pair => pair.Value).ToArray())
        {
            _open.Remove(code);
            if (_open.Count == 0)
            {
                _clearedAt = at;
            }
        }
    }

    private void Finish(TimelineRecord? proof)
    {
        if (IsTelling)
        {
            if (proof is not null)
            {
                _members.Add(proof);
            }

            _told.Add(new Story(_members, _raisedAt, _clearedAt, proof));
        }

        (_members, _clearedAt) = ([], null);
        _open.Clear();
    }

    // What somebody cleaned by hand says nothing of what the unit can do.
    private static bool IsTry(TimelineRecord record) => record.Outcome is not null && record.Row.AttestedBy is null;

    private static bool LocksOut(TimelineRecord record) =>
        record.Unit.Unit.Model.Faults.GetValueOrDefault(record.Row.Code!)?.LocksOutWashing ?? false;
}
