namespace Washwear.Analytics.Repeats;

/// <summary>A fault that a unit raised.</summary>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="Code">The caller's number of the fault code.</param>
/// <param name="RaisedAtMs">When it was raised, milliseconds since 1970-01-01 UTC.</param>
/// <param name="ClearedAtMs">When it was cleared, same scale; null: never, or not yet. Before it was raised: counts as when it was raised.</param>
/// <param name="LocksOutWashing">True when the unit will not wash while it stands.</param>
public readonly record struct RaisedFault(int Unit, int Code, long RaisedAtMs, long? ClearedAtMs, bool LocksOutWashing);

/// <summary>A repair that ends a run of faults: a part changed for a failure, or a visit that ended repaired.</summary>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="AtMs">When it was done, milliseconds since 1970-01-01 UTC.</param>
public readonly record struct UnitRepair(int Unit, long AtMs);

/// <summary>Which faults count as one trouble.</summary>
/// <param name="GapHours">Most hours from the end of the faults so far to the next one's raising, 0 or more, at most 87,600.</param>
/// <param name="AnyLockout">True: faults that lock out washing belong together whatever their code; false: only faults of one code.</param>
public sealed record EpisodeOptions(double GapHours = 72, bool AnyLockout = false);

/// <summary>Faults of a unit that count as one trouble.</summary>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="Codes">Codes in it, in the order of their first raising.</param>
/// <param name="FirstRaisedAtMs">When the first was raised.</param>
/// <param name="LastEndAtMs">Latest end: cleared, or raised where it was never cleared.</param>
/// <param name="Faults">Number of faults, 1 or more.</param>
/// <param name="NeverCleared">How many of them have no clearing on record.</param>
public sealed record FaultEpisode(
    int Unit, IReadOnlyList<int> Codes, long FirstRaisedAtMs, long LastEndAtMs, int Faults, int NeverCleared);

/// <summary>
/// Counts faults that come in runs after one cause once. A fault belongs to the running episode of its unit and code (or of the unit's
/// lockouts, <see cref="EpisodeOptions.AnyLockout"/>) when it is raised within the gap after the episode's end so far, and no repair was
/// done after the raising of the episode's last fault and not after its own raising: what comes after a repair is a new failure, which is
/// what repeats are about. The end of a fault is its clearing, or its raising where it was never cleared. The order of the input carries no
/// meaning. The rule is this project's own (common practice with alarm floods); no published figure stands behind the 72 hours.
/// </summary>
public static class FaultEpisodes
{
    private const double MillisecondsPerHour = 3_600_000;
    private const double MostGapHours = 87_600;

    /// <summary>Groups; episodes in the order of first raising, unit, first code.</summary>
    /// <param name="faults">All faults.</param>
    /// <param name="repairs">All repairs of the same units.</param>
    /// <param name="options">Which belong together; left out: 72 hours, one code.</param>
    /// <exception cref="ArgumentOutOfRangeException">The gap lies outside its range.</exception>
    public static IReadOnlyList<FaultEpisode> Group(
        IReadOnlyList<RaisedFault> faults, IReadOnlyList<UnitRepair> repairs, EpisodeOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(faults);
        ArgumentNullException.ThrowIfNull(repairs);
        options ??= new EpisodeOptions();
        if (options.GapHours is not (>= 0 and <= MostGapHours))
        {
            throw new ArgumentOutOfRangeException(nameof(options), options.GapHours, $"The gap lies from 0 to {MostGapHours} hours.");
        }

        var repaired = repairs.GroupBy(r => r.Unit).ToDictionary(g => g.Key, g => g.Select(r => r.AtMs).Order().ToArray());
        var running = new Dictionary<(int Unit, long Stream), Running>();
        var all = new List<Running>();
        foreach (int i in InTime(faults))
        {
            RaisedFault fault = faults[i];
            (int, long) stream = (fault.Unit, options.AnyLockout && fault.LocksOutWashing ? long.MinValue : fault.Code);
            if (!running.TryGetValue(stream, out Running? episode)
                || (double)fault.RaisedAtMs - episode.EndMs > options.GapHours * MillisecondsPerHour
                || AnyWithin(repaired.GetValueOrDefault(fault.Unit, []), episode.LastRaisedMs, fault.RaisedAtMs))
            {
                episode = new Running(fault);
                running[stream] = episode;
                all.Add(episode);
            }

            episode.Add(fault);
        }

        return [.. all.Select(e => e.Closed())];
    }

    /// <summary>Indices in the order of raising, unit, code.</summary>
    private static int[] InTime(IReadOnlyList<RaisedFault> faults)
    {
        long[] raised = [.. faults.Select(f => f.RaisedAtMs)];
        int[] order = [.. Enumerable.Range(0, faults.Count)];
        Array.Sort(raised, order);
        for (int from = 0, i = 1; i <= order.Length; i++)
        {
            if (i == order.Length || raised[i] != raised[from])
            {
                order.AsSpan(from, i - from).Sort((a, b) => Tie(faults[a]).CompareTo(Tie(faults[b])));
                from = i;
            }
        }

        return order;
    }

    private static (int Unit, int Code, bool LocksOut) Tie(RaisedFault fault) => (fault.Unit, fault.Code, fault.LocksOutWashing);

    /// <summary>True when a time lies after <paramref name="after"/> and not after <paramref name="until"/>.</summary>
    private static bool AnyWithin(long[] times, long after, long until)
    {
        int at = Array.BinarySearch(times, until);
        int last = at >= 0 ? at : ~at - 1;
        return last >= 0 && times[last] > after;
    }

    /// <summary>An episode that may still grow.</summary>
    private sealed class Running(RaisedFault first)
    {
        private readonly List<int> _codes = new(1);
        private int _faults;
        private int _neverCleared;

        public long EndMs { get; private set; } = long.MinValue;

        public long LastRaisedMs { get; private set; }

        public void Add(in RaisedFault fault)
        {
            EndMs = Math.Max(EndMs, Math.Max(fault.RaisedAtMs, fault.ClearedAtMs ?? long.MinValue));
            LastRaisedMs = fault.RaisedAtMs;
            _faults++;
            _neverCleared += fault.ClearedAtMs is null ? 1 : 0;
            if (!_codes.Contains(fault.Code))
            {
                _codes.Add(fault.Code);
            }
        }

        public FaultEpisode Closed() => new(first.Unit, _codes, first.RaisedAtMs, EndMs, _faults, _neverCleared);
    }
}
