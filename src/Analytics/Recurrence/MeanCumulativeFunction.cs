using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Mean cumulative function: the sum over event ages of events / units watched through that age. A unit is at risk at t when entry
/// &lt; t &lt;= end, so it counts at its own end; several events of a unit at one age all count. Bounds hold however the events of one unit
/// depend on each other, as long as the units do not depend on each other and are not taken out of watch because of their events.
/// Robust variance sum over units of [sum over ages of (own events - mean events) / at risk]^2: Lawless and Nadeau (1995), Technometrics
/// 37, 158-168. Unbiased variance: Nelson (1995), Technometrics 37, 147-157. See also Nelson (2003), Recurrent Events Data Analysis.
/// </summary>
public static class MeanCumulativeFunction
{
    /// <summary>Estimates the curve, in time in proportion to units and events but for sorting.</summary>
    /// <param name="histories">The units, on one clock; none gives a curve without steps.</param>
    /// <param name="level">Confidence level of the bounds, above 0 and below 1.</param>
    /// <param name="fromAge">
    /// Age, 0 or more, from which events are counted; what happened up to it is left aside. Of use where too few units were watched at
    /// lower ages.
    /// </param>
    /// <exception cref="ArgumentOutOfRangeException">The level or the age lies outside its range.</exception>
    public static MeanCumulativeCurve Estimate(IReadOnlyList<EventHistory> histories, double level = 0.95, double fromAge = 0)
    {
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentOutOfRangeException.ThrowIfNegative(fromAge);
        double z = ConfidenceLevel.NormalQuantile(level);
        var sweep = new RecurrenceSweep(histories, fromAge);
        var steps = new List<MeanCumulativeStep>(sweep.AllEvents);
        var sums = new InfluenceSums(histories.Count);
        while (sweep.Next())
        {
            sums.Add(sweep);
            steps.Add(new MeanCumulativeStep(
                sweep.Age, sweep.AtRisk, sweep.EventUnits.Length, sums.Mean,
                sums.SeRobust, Math.Sqrt(sums.PoissonVariance), sums.SeNelson, z));
        }

        return new MeanCumulativeCurve(
            sweep.Units, sweep.AllEvents, fromAge, sweep.LastAge, level, steps,
            sweep.StretchesWith(fromAge, 0), sweep.StretchesWith(fromAge, 1));
    }
}
