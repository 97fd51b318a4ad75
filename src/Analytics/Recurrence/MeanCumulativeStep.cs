namespace Washwear.Analytics.Recurrence;

/// <summary>The mean cumulative function just after one age at which events happened.</summary>
/// <param name="Age">The age, in the unit of the clock.</param>
/// <param name="AtRisk">Units watched through this age, 1 or more.</param>
/// <param name="Events">Events at it, over all units.</param>
/// <param name="Mean">Mean number of events a unit up to and including it, above 0.</param>
/// <param name="SeRobust">
/// Standard error that holds however events depend on each other within a unit; null as soon as any step up to here had one unit at risk
/// only, since how units differ cannot be seen there.
/// </param>
/// <param name="SePoisson">Standard error if all units were one and the same Poisson process; too small where units differ.</param>
/// <param name="SeNelson">
/// Nelson's unbiased form of the robust one; null where a unit entered after the first event, one unit was at risk, or its square comes
/// out negative, as an unbiased form may.
/// </param>
/// <param name="Z">Normal quantile of the level of the bounds.</param>
public readonly record struct MeanCumulativeStep(
    double Age, int AtRisk, int Events, double Mean, double? SeRobust, double SePoisson, double? SeNelson, double Z)
{
    /// <summary>Lower robust bound on the log scale, mean x exp(-z se/mean), above 0; null without a robust standard error.</summary>
    public double? Lower => OnLogScale(-Z);

    /// <summary>Upper robust bound on the log scale, mean x exp(z se/mean); null without a robust standard error.</summary>
    public double? Upper => OnLogScale(Z);

    /// <summary>Lower robust bound on the plain scale, mean - z se; may fall below 0; null without a robust standard error.</summary>
    public double? LowerLinear => Mean - (Z * SeRobust);

    /// <summary>Upper robust bound on the plain scale, mean + z se; null without a robust standard error.</summary>
    public double? UpperLinear => Mean + (Z * SeRobust);

    private double? OnLogScale(double z) => SeRobust is { } se ? Mean * Math.Exp(z * se / Mean) : null;
}
