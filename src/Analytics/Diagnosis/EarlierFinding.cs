namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// What an earlier visit for the same trouble found and did not mend. A finding is a look that may be wrong: it counts by Bayes' rule as a
/// check that speaks of the causes it names, of 'something else' where the catalogue knows none of them, and that errs either way with
/// <see cref="CauseOptions.FindingWrong"/>. Checks that failed at the position found are what the finding rests on: they are part of it
/// and do
/// not count besides.
/// </summary>
public static class EarlierFinding
{
    /// <summary>Probabilities after the findings of one visit.</summary>
    /// <param name="probabilities">Probability of each cause of the catalogue, and of 'something else' as the last.</param>
    /// <param name="catalogue">The causes, one fewer than probabilities.</param>
    /// <param name="findings">What the visit found; empty: the probabilities stay.</param>
    /// <param name="options">Options.</param>
    /// <exception cref="ArgumentException">The counts do not agree.</exception>
    public static IReadOnlyList<double> After(
        IReadOnlyList<double> probabilities, IReadOnlyList<CataloguedCause> catalogue, IReadOnlyList<CauseFinding> findings,
        CauseOptions options)
    {
        ArgumentNullException.ThrowIfNull(probabilities);
        ArgumentNullException.ThrowIfNull(catalogue);
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();
        if (probabilities.Count != catalogue.Count + 1)
        {
            throw new ArgumentException(
                $"{probabilities.Count} probabilities were given for {catalogue.Count} causes.", nameof(probabilities));
        }

        if (findings.Count == 0)
        {
            return probabilities;
        }

        int[] named = [.. Enumerable.Range(0, catalogue.Count).Where(cause => findings.Any(finding => finding.Names(catalogue[cause])))];
        var look = new DiagnosticCheck(
            "finding", 1, named.Length == 0 ? [catalogue.Count] : named, options.FindingWrong, options.FindingWrong);
        return CauseBelief.After(probabilities, look, CheckOutcome.Fires).Probabilities;
    }
}
