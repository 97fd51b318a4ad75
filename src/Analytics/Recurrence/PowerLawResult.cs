namespace Washwear.Analytics.Recurrence;

/// <summary>Why there is no power law.</summary>
public enum NoPowerLawReason
{
    /// <summary>Fewer events than asked for.</summary>
    TooFewEvents,

    /// <summary>All events happened at the very end of the longest records: the shape has no upper limit.</summary>
    EventsAtTheEnd,

    /// <summary>Units that entered late, with events so early in their windows that no shape above 0 is likeliest.</summary>
    NoMaximum,
}

/// <summary>A power-law process fitted to events that recur, or why there is none.</summary>
/// <param name="Units">Units given.</param>
/// <param name="Events">Events over them.</param>
public abstract record PowerLawResult(int Units, int Events);

/// <summary>No power law.</summary>
/// <param name="Reason">Why.</param>
/// <param name="EventsNeeded">Events that are asked for.</param>
public sealed record NoPowerLaw(int Units, int Events, NoPowerLawReason Reason, int EventsNeeded) : PowerLawResult(Units, Events);

/// <summary>How the bounds of the shape were found.</summary>
public enum PowerLawMethod
{
    /// <summary>Exact, by chi-square: all units were watched from 0 to one age.</summary>
    EqualWindows,

    /// <summary>Maximum likelihood, bounds on the log scale from the observed information: windows differ.</summary>
    UnequalWindows,
}

/// <summary>Likelihood-ratio test.</summary>
/// <param name="Statistic">Twice the gain in log-likelihood, 0 or more.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the chi-square.</param>
/// <param name="PValue">Chance of at least this statistic if the simpler model holds.</param>
public sealed record LikelihoodRatio(double Statistic, int DegreesOfFreedom, double PValue);

/// <summary>
/// Whether the power law suits the events: Cramer-von Mises distance of the times scaled by their windows from the fitted curve.
/// </summary>
/// <param name="Statistic">The distance.</param>
/// <param name="Events">Events that entered it.</param>
/// <param name="UnitsLeftOut">Units with events left out because they entered late.</param>
/// <param name="Upper10">The distance exceeded in 10 % of cases where the power law holds (simulated points); null below 5 events.</param>
/// <param name="Upper05">The same for 5 %.</param>
/// <param name="Upper01">The same for 1 %.</param>
public sealed record PowerLawGoodness(
    double Statistic, int Events, int UnitsLeftOut, double? Upper10, double? Upper05, double? Upper01)
{
    /// <summary>The p-value is at least this: 0.10, 0.05, 0.01 or 0; null below 5 events.</summary>
    public double? PAtLeast => Upper10 is null ? null
        : Statistic <= Upper10 ? 0.10 : Statistic <= Upper05 ? 0.05 : Statistic <= Upper01 ? 0.01 : 0;

    /// <summary>The p-value is at most this: 1, 0.10, 0.05 or 0.01; null below 5 events.</summary>
    public double? PAtMost => Upper10 is null ? null
        : Statistic < Upper10 ? 1 : Statistic < Upper05 ? 0.10 : Statistic < Upper01 ? 0.05 : 0.01;
}
