using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>One run of a wash programme, an attempt that the unit refused, or a clean by hand that a person attests.</summary>
/// <param name="StartedAt">Start, or the moment of the refusal.</param>
/// <param name="EndedAt">End; null when it is not known or the unit refused. Not before the start.</param>
/// <param name="Grade">Grade of the programme.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="DetergentLeft">True when undissolved detergent was found after it, false when somebody looked and found none; null when
/// nobody looked.</param>
/// <param name="AttestedBy">Who attests a clean by hand; null for a wash that the unit ran.</param>
public sealed record Wash(
    Instant StartedAt, Instant? EndedAt, ProgrammeGrade Grade, WashOutcome Outcome, bool? DetergentLeft = null, string? AttestedBy = null)
{
    /// <summary>End of the run; null when it is not known or the unit refused.</summary>
    public Instant? EndedAt { get; init; } = EndedAt is { } end && end < StartedAt
        ? throw new ArgumentOutOfRangeException(nameof(EndedAt), $"A wash that started at {StartedAt} cannot end before that, at {end}.")
        : EndedAt;

    /// <summary>The moment that decides what the attempt did: its end, or its start where no end is known.</summary>
    public Instant DecidedAt => EndedAt ?? StartedAt;

    /// <summary>
    /// Whether it counts for a rule that asks for <paramref name="asked"/> (S4): completed, with a known end, of that grade or higher, and
    /// no detergent found left.
    /// </summary>
    /// <param name="asked">Grade that the rule asks for.</param>
    public bool CountsFor(ProgrammeGrade asked) =>
        Outcome == WashOutcome.Completed && EndedAt is not null && DetergentLeft != true && Grade.Satisfies(asked);
}
