namespace Washwear.Analytics.Diagnosis;

/// <summary>When a diagnosis ends, and what leaving without success costs.</summary>
/// <param name="Certainty">Probability at which the cause is taken for found, above 0, 1 at most.</param>
/// <param name="SecondVisitMinutes">What it costs to leave without having mended the fault, minutes, 0 or more.</param>
public sealed record DiagnosisOptions(double Certainty = 0.9, double SecondVisitMinutes = 240)
{
    /// <summary>The defaults.</summary>
    public static DiagnosisOptions Usual { get; } = new();
}

/// <summary>A fault at a unit: its causes, and the checks that tell them apart. Immutable.</summary>
public sealed record DiagnosisCase
{
    // Rounding keeps a probability from reaching 1.
    private const double MostCertain = 1 - 1e-9;

    /// <summary>A case.</summary>
    /// <param name="probabilities">Probability of each cause, scaled to add to 1: <see cref="CauseWeighing.Probabilities"/>.</param>
    /// <param name="checks">The checks that may be done, in the catalogue's order, each under its own code.</param>
    /// <param name="repairMinutes">Minutes to repair each cause and prove it, 0 or more; null: it cannot be repaired on this visit, as
    /// 'something else' cannot.</param>
    /// <param name="options">Options; null: the defaults.</param>
    /// <exception cref="ArgumentException">A number lies outside its range, the counts do not agree, or two checks have one
    /// code.</exception>
    public DiagnosisCase(
        IReadOnlyList<double> probabilities, IReadOnlyList<DiagnosticCheck> checks, IReadOnlyList<double?> repairMinutes,
        DiagnosisOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(checks);
        ArgumentNullException.ThrowIfNull(repairMinutes);
        Options = options ?? DiagnosisOptions.Usual;
        Requirements.InRange(Options.Certainty, double.Epsilon, 1, nameof(Options.Certainty));
        Requirements.InRange(Options.SecondVisitMinutes, 0, double.MaxValue, nameof(Options.SecondVisitMinutes));
        Probabilities = Requirements.Normalised(probabilities);
        if (repairMinutes.Count != Probabilities.Count || checks.DistinctBy(check => check.Check).Count() != checks.Count)
        {
            throw new ArgumentException("Each cause needs its minutes of repair, and each check a code of its own.");
        }

        foreach (double minutes in repairMinutes.OfType<double>())
        {
            Requirements.InRange(minutes, 0, double.MaxValue, nameof(repairMinutes));
        }

        foreach (DiagnosticCheck check in checks)
        {
            check.RequireCauses(Probabilities.Count);
        }

        (Checks, RepairMinutes, Groups) = ([.. checks], [.. repairMinutes], Grouped(checks, Probabilities.Count));
    }

    /// <summary>Probability of each cause before any check; they add to 1.</summary>
    public IReadOnlyList<double> Probabilities { get; }

    /// <summary>The checks.</summary>
    public IReadOnlyList<DiagnosticCheck> Checks { get; }

    /// <summary>Minutes to repair each cause and prove it; null: not on this visit.</summary>
    public IReadOnlyList<double?> RepairMinutes { get; }

    /// <summary>Options.</summary>
    public DiagnosisOptions Options { get; }

    /// <summary>Causes that no check of the case tells apart, together: what a diagnosis can find out at best.</summary>
    public IReadOnlyList<IReadOnlyList<int>> Groups { get; }

    /// <summary>Certainty that counts as reached.</summary>
    internal double Certainty => Math.Min(Options.Certainty, MostCertain);

    // A check that fires as often for what it speaks of as for anything else tells nothing apart.
    private static int[][] Grouped(IReadOnlyList<DiagnosticCheck> checks, int causes) =>
    [
        .. Enumerable.Range(0, causes)
            .GroupBy(cause => string.Concat(checks.Select(check => check.TellsApart && check.SpeaksOf.Contains(cause) ? '1' : '0')))
            .Select(group => group.ToArray()),
    ];
}

/// <summary>A result that was entered.</summary>
/// <param name="Check">Code of the check.</param>
/// <param name="Outcome">How it went.</param>
public sealed record EnteredResult(string Check, CheckOutcome Outcome);
