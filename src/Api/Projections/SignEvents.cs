using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;

namespace Washwear.Api.Projections;

/// <summary>What moves the charts of early signs: a wash, or a restart.</summary>
/// <param name="At">When it happened; a wash: when it started.</param>
/// <param name="Wash">The wash; null: something was mended, and the charts begin anew.</param>
public readonly record struct SignEvent(Instant At, ObservedWash? Wash)
{
    /// <summary>Folds the event in.</summary>
    /// <param name="signs">The running state before it.</param>
    public UnitSigns FoldInto(UnitSigns signs) => Wash is { } wash
        ? signs.Add(wash, EarlySignOptions.Usual)
        : signs.Restart(At, EarlySignOptions.Usual);
}

/// <summary>Which records move the charts of early signs, and in which order, whatever the order in which they arrived.</summary>
public static class SignEvents
{
    /// <summary>By instant; where several fall together, restarts first, then by content: so equals cannot be told apart.</summary>
    public static IComparer<SignEvent> Order { get; } = Comparer<SignEvent>.Create(Compare);

    /// <summary>The event that a record is; none for most.</summary>
    /// <param name="record">The record.</param>
    public static IEnumerable<SignEvent> Of(IncomingRecord record) => record switch
    {
        WashRecord wash => [Washed(
            wash.At.ToUnixTimeMilliseconds(), wash.EndedAt?.ToUnixTimeMilliseconds(), wash.Programme,
            wash.Grade is { } grade ? EnumText<ProgrammeGrade>.Of(grade) : Spelling.UnknownGrade, wash.Outcome, wash.DetergentLeft,
            wash.AttestedBy is not null)],
        PartChangeRecord change => [Mended(change.At.ToUnixTimeMilliseconds())],
        VisitRecord { LeftAt: { } left, Outcome: VisitOutcome.Proven or VisitOutcome.RepairedNotProven } =>
            [Mended(left.ToUnixTimeMilliseconds())],
        _ => [],
    };

    /// <summary>A wash.</summary>
    /// <param name="startedMs">When it started, milliseconds UTC.</param>
    /// <param name="endedMs">When it ended.</param>
    /// <param name="programme">Programme as reported.</param>
    /// <param name="grade">Word of the grade; stands for the programme where that was not told.</param>
    /// <param name="outcome">How it ended.</param>
    /// <param name="detergentLeft">Whether detergent was found left.</param>
    /// <param name="byHand">Whether people cleaned by hand.</param>
    public static SignEvent Washed(
        long startedMs, long? endedMs, string? programme, string grade, WashOutcome outcome, bool? detergentLeft, bool byHand)
    {
        var started = Instant.FromUnixTimeMilliseconds(startedMs);
        Instant? ended = endedMs >= startedMs ? Instant.FromUnixTimeMilliseconds(endedMs.Value) : null;
        var wash = new Wash(started, ended, ProgrammeGrade.Standard, outcome, detergentLeft, byHand ? "attested" : null);

        // Programmes are compared without case; a grade cannot be taken for a programme of the same name.
        return new SignEvent(started, ObservedWash.Of(wash, programme?.ToUpperInvariant() ?? "grade:" + grade));
    }

    /// <summary>Something was mended.</summary>
    /// <param name="atMs">When, milliseconds UTC.</param>
    public static SignEvent Mended(long atMs) => new(Instant.FromUnixTimeMilliseconds(atMs), null);

    private static int Compare(SignEvent one, SignEvent other)
    {
        int order = one.At.CompareTo(other.At);
        return order != 0 ? order
            : one.Wash is not { } wash || other.Wash is not { } second ? (one.Wash is null ? 0 : 1) - (other.Wash is null ? 0 : 1)
            : Nullable.Compare(wash.IsBad, second.IsBad) is var bad and not 0 ? bad
            : Nullable.Compare(wash.Minutes, second.Minutes) is var minutes and not 0 ? minutes
            : string.CompareOrdinal(wash.Programme, second.Programme);
    }
}
