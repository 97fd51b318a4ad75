namespace Washwear.Analytics.Diagnosis;

/// <summary>What a result makes of the probabilities of the causes.</summary>
/// <param name="ProbabilityOfResult">How probable the result was before it came, 0 to 1.</param>
/// <param name="Probabilities">Probability of each cause after it; unchanged where <paramref name="Contradicts"/>.</param>
/// <param name="Contradicts">Whether no cause can give this result by the stated chances, as when a check without false alarms fires for
/// what was ruled out: one of the two is wrong, and nothing can be computed from it.</param>
public sealed record BeliefAfter(double ProbabilityOfResult, IReadOnlyList<double> Probabilities, bool Contradicts);

/// <summary>
/// Bayes' rule for exactly one present cause: probability after = probability before x chance of the result under the cause, divided by the
/// sum. A check fires with 1 - miss if it speaks of the cause that is present, else with its chance of a false alarm; results are
/// independent once the cause is given, so their order does not matter.
/// </summary>
public static class CauseBelief
{
    /// <summary>Probabilities after the result of a check.</summary>
    /// <param name="probabilities">Probability of each cause before it, scaled to add to 1 if they do not.</param>
    /// <param name="check">The check.</param>
    /// <param name="outcome">How it went.</param>
    /// <exception cref="ArgumentOutOfRangeException">A probability is negative or not finite, or all are 0.</exception>
    public static BeliefAfter After(IReadOnlyList<double> probabilities, DiagnosticCheck check, CheckOutcome outcome)
    {
        ArgumentNullException.ThrowIfNull(check);
        double[] before = Requirements.Normalised(probabilities);
        double[] chance = check.ChanceOf(outcome, before.Length);
        double[] joint = [.. before.Select((probability, i) => probability * chance[i])];
        double sum = Math.Min(1, joint.Sum());
        return sum > 0 ? new BeliefAfter(sum, Requirements.Normalised(joint), false) : new BeliefAfter(0, before, true);
    }
}
