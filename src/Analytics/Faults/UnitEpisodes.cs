using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Faults;

/// <summary>Faults of one code at one unit that count as one trouble.</summary>
/// <param name="Code">Code of the fault, as it was first reported.</param>
/// <param name="RaisedAt">When the first was raised.</param>
/// <param name="EndedAt">Latest end: cleared, or raised where it was never cleared.</param>
/// <param name="IsOpen">Whether one of them is not cleared.</param>
/// <param name="Faults">Number of faults, 1 or more.</param>
public sealed record UnitEpisode(string Code, Instant RaisedAt, Instant EndedAt, bool IsOpen, int Faults);

/// <summary>The episodes of one unit, by <see cref="FaultEpisodes"/>.</summary>
public static class UnitEpisodes
{
    /// <summary>The episodes, each of one code, in the order of first raising.</summary>
    /// <param name="faults">The unit's faults, in any order; codes are compared without case.</param>
    /// <param name="repairs">When its repairs were done: parts changed for a failure, and ends of visits that repaired.</param>
    public static IReadOnlyList<UnitEpisode> Of(IEnumerable<WashFault> faults, IEnumerable<Instant> repairs)
    {
        ArgumentNullException.ThrowIfNull(faults);
        ArgumentNullException.ThrowIfNull(repairs);
        var numbers = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        List<string> codes = [];
        List<RaisedFault> raised = [];
        foreach (WashFault fault in faults.OrderBy(fault => fault.RaisedAt))
        {
            if (numbers.TryAdd(fault.Code, codes.Count))
            {
                codes.Add(fault.Code);
            }

            raised.Add(new RaisedFault(
                0, numbers[fault.Code], fault.RaisedAt.ToUnixTimeMilliseconds(), fault.ClearedAt?.ToUnixTimeMilliseconds(),
                fault.LocksOutWashing));
        }

        return
        [
            .. FaultEpisodes.Group(raised, [.. repairs.Select(at => new UnitRepair(0, at.ToUnixTimeMilliseconds()))])
                .Select(episode => new UnitEpisode(
                    codes[episode.Codes[0]],
                    Instant.FromUnixTimeMilliseconds(episode.FirstRaisedAtMs),
                    Instant.FromUnixTimeMilliseconds(episode.LastEndAtMs),
                    episode.NeverCleared > 0,
                    episode.Faults)),
        ];
    }
}
