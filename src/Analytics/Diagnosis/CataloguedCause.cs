namespace Washwear.Analytics.Diagnosis;

/// <summary>A cause that the catalogue names for a fault code.</summary>
/// <param name="Position">Position at fault.</param>
/// <param name="FailureMode">How it fails; null: the catalogue does not say.</param>
/// <param name="Cause">Why it fails; null: the catalogue does not say.</param>
/// <param name="PriorWeight">How often it was the cause, in equivalent past cases, 0 or more and finite.</param>
public sealed record CataloguedCause(string Position, string? FailureMode, string? Cause, double PriorWeight);

/// <summary>What a visit found to be wrong.</summary>
/// <param name="Position">Position at fault.</param>
/// <param name="FailureMode">How it failed; null: not said.</param>
/// <param name="Cause">Why it failed; null: not said.</param>
public sealed record CauseFinding(string Position, string? FailureMode = null, string? Cause = null)
{
    /// <summary>
    /// Whether the finding names a cause: the same position, and no failure mode or reason that contradicts. What one of the two does not
    /// say contradicts nothing. Codes are compared without case.
    /// </summary>
    /// <param name="cause">The cause.</param>
    public bool Names(CataloguedCause cause)
    {
        ArgumentNullException.ThrowIfNull(cause);
        return Same(Position, cause.Position) && Agrees(FailureMode, cause.FailureMode) && Agrees(Cause, cause.Cause);
    }

    private static bool Agrees(string? one, string? other) => one is null || other is null || Same(one, other);

    private static bool Same(string one, string other) => string.Equals(one.Trim(), other.Trim(), StringComparison.OrdinalIgnoreCase);
}

/// <summary>A closed visit of the fleet for the fault code, as far as it tells of causes.</summary>
/// <param name="Proven">Whether the repair was proven.</param>
/// <param name="Findings">What was found wrong; empty: the visit is counted as one without a finding and tells nothing of causes.</param>
public sealed record VisitEvidence(bool Proven, IReadOnlyList<CauseFinding> Findings);
