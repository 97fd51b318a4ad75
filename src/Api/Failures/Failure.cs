using Washwear.Api.PartLife;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>One failure: an episode of faults of one code, or a part that failed. Instants are ms UTC.</summary>
/// <param name="Kind">Faults or a part.</param>
/// <param name="Unit">The unit.</param>
/// <param name="AtMs">When the first fault was raised, or the part was taken out, or the visit that found it ended.</param>
/// <param name="What">Fault code, or code of the position.</param>
/// <param name="Name">The fault's text, or the position's name.</param>
internal sealed record Failure(FailureKind Kind, WatchedUnit Unit, long AtMs, string What, string Name)
{
    /// <summary>When the last fault of the episode was cleared; null: it was not, or this is a part.</summary>
    public long? UntilMs { get; init; }

    /// <summary>How many faults the episode counts; 0 for a part.</summary>
    public int Faults { get; init; }

    /// <summary>Whether its fault locks out washing.</summary>
    public bool LocksOut { get; init; }

    /// <summary>The part that failed; null for faults and for what a visit found.</summary>
    public FleetLife? Life { get; init; }
}
