using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>How a unit stands under a rule at one instant, and why.</summary>
/// <param name="AsOf">The instant; everything at or before it counts.</param>
/// <param name="State">How the unit stands.</param>
/// <param name="Cause">What this moment is charged to.</param>
/// <param name="Since"> Since when that cause has run without a break; null when it has run since before the first record. Times without a
/// rule, closed and out of service break it.
/// </param>
/// <param name="Lockout">What a lockout waits for, given also before a wash is overdue; null when the unit is not locked out.</param>
/// <param name="LockoutSince">When the oldest lockout that stands was raised, or washing was last refused; null when the unit is not locked
/// out.</param>
/// <param name="LastCountedWashEnd">End of the last wash that counts; null when none is known.</param>
/// <param name="Due">When the oldest wash that is still open fell or falls due; null when none will.</param>
/// <param name="Deadline">Its deadline.</param>
/// <param name="OverdueBy">Elapsed time since that deadline; zero when it has not passed.</param>
/// <param name="LastHeardAt">Last sign of life; null when there is none.</param>
/// <param name="HasWashedSince">Whether the unit itself, locked out as it is, has since run a wash that counts, and neither refused one nor had
/// one stopped by a fault after that: the report that the fault was cleared may be missing. A clean by hand shows nothing of the kind.</param>
public sealed record CleaningStatus(
    Instant AsOf,
    CleaningState State,
    Cause Cause,
    Instant? Since,
    Cause? Lockout,
    Instant? LockoutSince,
    Instant? LastCountedWashEnd,
    Instant? Due,
    Instant? Deadline,
    Duration OverdueBy,
    Instant? LastHeardAt,
    bool HasWashedSince = false)
{
    /// <summary>Whose move it is: by the lockout, else by the cause; a wash that is due is the kitchen's.</summary>
    public Mover WhoseMove => State == CleaningState.Due ? Mover.Kitchen
        : State == CleaningState.LockedOut && Lockout is { } waits ? waits.WhoseMove()
        : Cause.WhoseMove();

    /// <summary>The same at a later instant up to which nothing has changed: only what is overdue has grown.</summary>
    /// <param name="asOf">The instant.</param>
    public CleaningStatus Later(Instant asOf) => asOf == AsOf ? this : this with
    {
        AsOf = asOf,
        OverdueBy = Deadline is { } deadline && deadline <= asOf ? asOf - deadline : Duration.Zero,
    };
}
