using System.Collections.Concurrent;

namespace Washwear.Api.Security;

/// <summary>Sessions as they were read some seconds ago, so that a page with its pictures asks the database once, and when each was last
/// seen. What this node changes is forgotten here at once; what another node changes is seen within <see cref="Lasts"/>. Safe for concurrent use.</summary>
public sealed class SessionCache
{
    /// <summary>How long a session is believed without a look.</summary>
    public static readonly TimeSpan Lasts = TimeSpan.FromSeconds(5);

    private const int Most = 10_000;
    private readonly ConcurrentDictionary<string, Kept> _sessions = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<long, DateTimeOffset> _seen = new();
    private long _generation;

    /// <summary>Grows whenever something is forgotten; take it before reading what is to be kept.</summary>
    internal long Generation => Interlocked.Read(ref _generation);

    /// <summary>Forgets all sessions: call it after a change of sessions, people or keys was committed.</summary>
    public void Clear()
    {
        Interlocked.Increment(ref _generation);
        _sessions.Clear();
    }

    /// <summary>A session that was read a moment ago; null: look.</summary>
    internal SessionRow? Find(byte[] hash) =>
        _sessions.TryGetValue(Convert.ToBase64String(hash), out Kept? kept) && TimeProvider.System.GetElapsedTime(kept.ReadAt) < Lasts ? kept.Row : null;

    /// <summary>Keeps a session, unless something was forgotten since it was read.</summary>
    internal void Keep(byte[] hash, SessionRow row, long generation)
    {
        if (_sessions.Count >= Most)
        {
            _sessions.Clear();
        }

        string key = Convert.ToBase64String(hash);
        _sessions[key] = new Kept(row, TimeProvider.System.GetTimestamp());
        if (generation != Generation)
        {
            _sessions.TryRemove(key, out _);
        }
    }

    /// <summary>Notes that a session was seen, to be written later.</summary>
    internal void Saw(long id, DateTimeOffset at) => _seen[id] = at;

    /// <summary>When a session was seen last by this node; null: not since that was written.</summary>
    internal DateTimeOffset? SeenAt(long id) => _seen.TryGetValue(id, out DateTimeOffset at) ? at : null;

    /// <summary>What was seen and is not written yet.</summary>
    internal IReadOnlyList<KeyValuePair<long, DateTimeOffset>> Seen() => [.. _seen];

    /// <summary>Forgets what has been written, unless it was seen again since.</summary>
    internal void Wrote(IEnumerable<KeyValuePair<long, DateTimeOffset>> seen)
    {
        foreach (KeyValuePair<long, DateTimeOffset> one in seen)
        {
            ((ICollection<KeyValuePair<long, DateTimeOffset>>)_seen).Remove(one);
        }

        Clear();
    }

    private sealed record Kept(SessionRow Row, long ReadAt);
}
