using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>How a visit to the unit ended.</summary>
public enum VisitOutcome
{
    /// <summary>Repaired, and a proof shows that it holds.</summary>
    Proven,

    /// <summary>Repaired, not yet proven.</summary>
    RepairedNotProven,

    /// <summary>Left until somebody approves the repair.</summary>
    WaitingApproval,

    /// <summary>Left until a part arrives.</summary>
    WaitingPart,

    /// <summary>Nothing found.</summary>
    NoFaultFound,
}

/// <summary>A visit asked for, under way or over.</summary>
/// <param name="AskedAt">When it was asked for; null when nobody recorded it.</param>
/// <param name="ArrivedAt">When work began; null before that.</param>
/// <param name="LeftAt">When work ended; null while it goes on (a visit that nobody closed counts as still going on).</param>
/// <param name="Outcome">How it ended; null before that.</param>
public sealed record Visit(Instant? AskedAt, Instant? ArrivedAt, Instant? LeftAt, VisitOutcome? Outcome);

/// <summary>A decision that a repair needed.</summary>
/// <param name="AskedAt">When it was asked for; null when nobody recorded it.</param>
/// <param name="DecidedAt">When it was decided; null while it is open.</param>
/// <param name="Granted">True when granted, false when refused; null while it is open.</param>
public sealed record Approval(Instant? AskedAt, Instant? DecidedAt, bool? Granted);
