using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Where one unit stands under one rule after everything up to an instant: enough to go on from there without the records before it. Holds
/// only for the rule, calendar and service it was made with, and only while no record at or before its instant is added or withdrawn.
/// Immutable.
/// </summary>
public sealed class CleaningCheckpoint
{
    internal CleaningCheckpoint(Instant at, RuleClockState state, IReadOnlyList<Obligation> keptAhead) =>
        (At, State, KeptAhead) = (at, state, keptAhead);

    /// <summary>The instant; every event at or before it has been taken.</summary>
    public Instant At { get; }

    internal RuleClockState State { get; }

    /// <summary>Washes judged already whose deadline is still to come.</summary>
    internal IReadOnlyList<Obligation> KeptAhead { get; }
}
