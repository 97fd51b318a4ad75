using System.Runtime.InteropServices;

namespace Washwear.Analytics.Faults;

/// <summary>A fault that a unit raised.</summary>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="Code">The caller's number of the fault code.</param>
/// <param name="RaisedAtMs">When it was raised, milliseconds since 1970-01-01 UTC.</param>
/// <param name="ClearedAtMs">When it was cleared, same scale; null: never, or not yet. Before it was raised: counts as when it was
/// raised.</param>
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
        Dictionary<long, int> byCode = new(faults.Count), byLockout = [];
        var all = new Running[faults.Count];
        int count = 0;
        foreach (int i in InTime(faults))
        {
            RaisedFault fault = faults[i];
            bool lockout = options.AnyLockout && fault.LocksOutWashing;
            ref int at = ref CollectionsMarshal.GetValueRefOrAddDefault(
                lockout ? byLockout : byCode, ((long)fault.Unit << 32) | (lockout ? 0 : (uint)fault.Code), out bool known);
            if (!known
                || (double)fault.RaisedAtMs - all[at].EndMs > options.GapHours * MillisecondsPerHour
                || AnyWithin(repaired.GetValueOrDefault(fault.Unit, []), all[at].LastRaisedMs, fault.RaisedAtMs))
            {
                at = count++;
                all[at] = new Running(fault);
            }

            all[at].Add(fault);
        }

        var singleCodes = new Dictionary<int, int[]>();
        return [.. all.Take(count).Select(e => e.Closed(singleCodes))];
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
                if (i - from > 1)
                {
                    order.AsSpan(from, i - from).Sort((a, b) => Tie(faults[a]).CompareTo(Tie(faults[b])));
                }

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

    /// <summary>An episode that may still grow. A value, as most of a hundred thousand have a single fault.</summary>
    private struct Running(RaisedFault first)
    {
        private List<int>? _furtherCodes;
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
            if (fault.Code != first.Code && _furtherCodes?.Contains(fault.Code) != true)
            {
                (_furtherCodes ??= []).Add(fault.Code);
            }
        }

        public readonly FaultEpisode Closed(Dictionary<int, int[]> singleCodes)
        {
            int[]? codes = _furtherCodes is null ? singleCodes.GetValueOrDefault(first.Code) : [first.Code, .. _furtherCodes];
            codes ??= singleCodes[first.Code] = [first.Code];
            return new FaultEpisode(first.Unit, codes, first.RaisedAtMs, EndMs, _faults, _neverCleared);
        }
    }
}
