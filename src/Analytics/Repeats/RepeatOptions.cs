namespace Washwear.Analytics.Repeats;

/// <summary>What counts as a repeat and what is called one too many.</summary>
/// <param name="WindowDays">Days after a repair within which a failure is a repeat, above 0, at most 3,650.</param>
/// <param name="EarlyDays">Days within which a failure points to the repair, 0 or more: a new part that fails at the same position, for which
/// the age by which 5 % fail counts instead where it is longer, but never more than the window; or the same fault, mended elsewhere.</param>
/// <param name="FalseDiscoveryRate">Share of the calls that may be wrong on average, above 0 and below 1.</param>
/// <param name="SureChance">Chance that a unit's failure rate is above its fleet's from which it counts as eating parts, above 0 and below 1.</param>
/// <param name="Level">Level of the bounds, above 0 and below 1.</param>
public sealed record RepeatOptions(
    double WindowDays = 90, double EarlyDays = 14, double FalseDiscoveryRate = 0.10, double SureChance = 0.95, double Level = 0.95)
{
    internal const double MillisecondsPerDay = 86_400_000;

    internal void Require()
    {
        if (WindowDays is not (> 0 and <= 3650))
        {
            throw new ArgumentOutOfRangeException(nameof(WindowDays), WindowDays, "The window lies above 0 and at most at 3,650 days.");
        }

        if (!(EarlyDays >= 0))
        {
            throw new ArgumentOutOfRangeException(nameof(EarlyDays), EarlyDays, "The early days are 0 or more.");
        }

        RequireShare(FalseDiscoveryRate, nameof(FalseDiscoveryRate));
        RequireShare(SureChance, nameof(SureChance));
        RequireShare(Level, nameof(Level));
    }

    internal static void RequireShare(double value, string name)
    {
        if (value is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name} lies above 0 and below 1.");
        }
    }
}

/// <summary>A repair: at a visit, a part changed at a position because it, or what it was taken for, had failed.</summary>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="Position">The caller's number of the position that was repaired.</param>
/// <param name="AtMs">When the repair was done, milliseconds since 1970-01-01 UTC. Repairs of one visit have one time.</param>
/// <param name="WatchedToMs">Until when the unit was watched: today, or when it was sold. Not the time of the next failure.</param>
/// <param name="LeftUnfailedAtMs">When the part was taken out unfailed (as a precaution); null: it was not.</param>
/// <param name="Code">The caller's number of the fault code that led to the repair; null: none, or not known.</param>
/// <param name="Batch">The caller's number of the batch of the part fitted; null: not known.</param>
public readonly record struct RepairDone(
    int Unit, int Position, long AtMs, long WatchedToMs, long? LeftUnfailedAtMs = null, int? Code = null, int? Batch = null);

/// <summary>A failure: a part that failed, or an episode of faults (<see cref="Faults.FaultEpisodes"/>).</summary>
/// <param name="Unit">The caller's number of the unit.</param>
/// <param name="AtMs">When it happened or was first raised, milliseconds since 1970-01-01 UTC.</param>
/// <param name="FoundPosition">Position that the repair which answered it changed or found; null: not known yet.</param>
/// <param name="Code">The caller's number of the fault code; null: none.</param>
public readonly record struct FailureSeen(int Unit, long AtMs, int? FoundPosition = null, int? Code = null);

/// <summary>What the caller's life models and tests say, to hold repeats against.</summary>
/// <param name="ChanceWithinDays">Chance from 0 to 1 that the part fitted at a repair fails within so many days, by the position's life model; null where
/// there is none: then the rate of the other units' repeats at this position stands in.</param>
/// <param name="EarlyLifeDays">Age by which 5 % of such parts fail, days; null where there is no life model.</param>
/// <param name="Units">Units against their fleet by position, of <see cref="ExcessFailures.Test"/>.</param>
/// <param name="Batches">Batches against the others by position, of <see cref="ExcessFailures.Test"/>.</param>
public sealed record RepeatModel(
    Func<RepairDone, double, double?> ChanceWithinDays,
    Func<RepairDone, double?> EarlyLifeDays,
    IReadOnlyList<Excess> Units,
    IReadOnlyList<Excess> Batches)
{
    /// <summary>No model: everything is held against the other units alone.</summary>
    public static RepeatModel None { get; } = new((_, _) => null, _ => null, [], []);
}
