namespace Washwear.Analytics.Diagnosis;

/// <summary>Where a diagnosis stands.</summary>
public enum DiagnosisStage
{
    /// <summary>There is a check to do next.</summary>
    CheckNext,

    /// <summary>The chosen certainty is reached.</summary>
    Certain,

    /// <summary>No check that could tell more is left, and the certainty is not reached.</summary>
    NotCertain,
}

/// <summary>Causes that the checks do not tell apart, and how probable it is that one of them is the cause.</summary>
/// <param name="Causes">Indices, the most probable first.</param>
/// <param name="Probability">Probability that the cause is among them, 0 to 1.</param>
public sealed record CauseGroup(IReadOnlyList<int> Causes, double Probability);

/// <summary>A check that may come next, with the reasons for and against it.</summary>
/// <param name="Check">The check.</param>
/// <param name="SpeaksOf">Probability that it speaks of the cause, 0 to 1: 'speaks of 46 % of what it can be'.</param>
/// <param name="IfItFires">What it would make of the probabilities if it fires, and how probable that is.</param>
/// <param name="IfItDoesNotFire">The same if it does not fire.</param>
/// <param name="ResolvedPerMinute">Probability that it resolves per minute: see <see cref="CheckOrder.ResolvedPerMinute"/>.</param>
/// <param name="ExpectedMinutes">Mean minutes until the fault is mended or left for a second visit if this check comes next and the best
/// ones follow; null where it was not among the checks that were looked at.</param>
public sealed record ProposedCheck(
    DiagnosticCheck Check, double SpeaksOf, BeliefAfter IfItFires, BeliefAfter IfItDoesNotFire, double ResolvedPerMinute,
    double? ExpectedMinutes);

/// <summary>Answer of a diagnosis to the results entered so far.</summary>
/// <param name="Stage">Where it stands.</param>
/// <param name="Probabilities">Probability of each cause.</param>
/// <param name="Groups">Causes that no check tells apart together, the most probable group first.</param>
/// <param name="MostLikely">Index of the most probable cause within the most probable group.</param>
/// <param name="Next">The check to do next; null: none.</param>
/// <param name="Alternatives">All checks that could tell more, the best first; the first one is <paramref name="Next"/>. Empty where none
/// is to be done.</param>
/// <param name="ExpectedMinutes">Mean minutes until the fault is mended or left for a second visit, repairs included.</param>
/// <param name="ExpectedMinutesWithoutChecks">The same if no further check is done: what the checks save is the difference.</param>
/// <param name="Repairs">Causes in the order in which they would be repaired if no further check were done, as long as trying is cheaper
/// than leaving.</param>
/// <param name="MinutesSpent">Minutes of the checks done so far.</param>
/// <param name="Contradicting">Codes of results that no cause could give after the others; they were left aside.</param>
/// <param name="Unknown">Codes of results whose check is not part of the case; they were left aside.</param>
public sealed record DiagnosisState(
    DiagnosisStage Stage, IReadOnlyList<double> Probabilities, IReadOnlyList<CauseGroup> Groups, int MostLikely, ProposedCheck? Next,
    IReadOnlyList<ProposedCheck> Alternatives, double ExpectedMinutes, double ExpectedMinutesWithoutChecks, IReadOnlyList<int> Repairs,
    double MinutesSpent, IReadOnlyList<string> Contradicting, IReadOnlyList<string> Unknown);
