namespace Washwear.Api.Ingest;

/// <summary>What can be wrong, or doubtful, with what a visit or an approval says, each with its mend.</summary>
internal static class VisitProblems
{
    public static RowProblem NoInstant(string field, string choices) => new(
        field, "missing", $"None of {choices} is given.", $"Give those of {choices} that are known; at alone does not say what happened then.");

    public static RowProblem OutOfOrder(string later, string earlier) => new(
        later, "out_of_order", $"{later} is before {earlier}.", "Correct one of the two instants.");

    public static RowProblem OutcomeBeforeEnd() => new(
        "outcome",
        "outcome_before_end",
        "A visit that has not ended has no outcome yet.",
        "Give left_at; or leave the outcome out, and send the ended visit later under a new key with replaces.");

    public static RowProblem DecisionHalf(string missing, string given) => new(
        missing,
        "decision_incomplete",
        $"{given} is given without {missing}.",
        "Give decision and decided_at together; leave both out while it is open.");

    public static RowProblem NoOutcome() => new(
        "outcome",
        "no_outcome",
        "The visit ended and nobody said how; a lockout that stands after it counts as one that nobody asked a visit for.",
        "Replace the record by one with the outcome.");

    public static RowProblem NoArrival() => new(
        "arrived_at",
        "no_arrival",
        "The visit ended and nobody said when it began; no time counts as being worked on.",
        "Replace the record by one with arrived_at.");

    public static RowProblem LongVisit(double hours) => new(
        "left_at",
        "long_visit",
        FormattableString.Invariant($"Work went on for {hours:0.#} hours, all of which count as being worked on."),
        "Check both instants; replace the record if one is wrong.");

    public static RowProblem ProvenWithoutProof() => new(
        "outcome",
        "proven_without_proof",
        "The outcome is proven, but no proof passed.",
        "Check the proofs, or give repaired_not_proven as the outcome.");

    public static RowProblem ProvenWithoutHeating() => new(
        "proofs",
        "proven_without_heating",
        "The outcome is proven, but no proof says that every heating circuit fired in every mode.",
        "Fire every circuit and replace the record by one whose proofs have heating-circuits as passed, or give repaired_not_proven as the outcome.");

    public static RowProblem CheckNotListed(string field, string check, string model) => new(
        field,
        "check_not_listed",
        $"Model '{model}' lists no check '{check}'.",
        "Check the spelling, or add it to a fault of the model.");
}
