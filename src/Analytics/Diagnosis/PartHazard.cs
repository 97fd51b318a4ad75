using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Diagnosis;

/// <summary>The part that is fitted now, as far as its age speaks for or against a cause. All ages are on the curve's clock.</summary>
/// <param name="Curve">Life curve of the parts at its position, or of the failure mode of the cause where one was fitted.</param>
/// <param name="Age">Age of the part now, 0 or more.</param>
/// <param name="MeanFleetHazard">Failures per unit of age over all the time the fleet's parts were watched, above 0: see
/// <see cref="OfFleet"/>.</param>
/// <param name="Pace">How fast the clock runs at this unit against the fleet's mean: washes a day here / washes a day in the fleet; 1 for a
/// clock in days. Above 0.</param>
public sealed record PartHazard(Weibull Curve, double Age, double MeanFleetHazard, double Pace = 1)
{
    /// <summary>
    /// Mean hazard of a fleet under a curve: failures that the curve expects over all the time that parts were watched, divided by that
    /// time. At the maximum of the likelihood with exact failures the former is the number of failures. A failure between two looks is
    /// watched up to the middle of them.
    /// </summary>
    /// <param name="curve">The curve.</param>
    /// <param name="lives">The lives that it was fitted to.</param>
    /// <returns>Failures per unit of age, above 0; null when nothing was watched or the figure leaves the range of numbers.</returns>
    public static double? OfFleet(Weibull curve, Lives lives)
    {
        ArgumentNullException.ThrowIfNull(curve);
        ArgumentNullException.ThrowIfNull(lives);
        double hazard = 0;
        double watched = 0;
        foreach ((double entry, double end) in Watched(lives))
        {
            hazard += curve.CumulativeHazardAt(end) - curve.CumulativeHazardAt(entry);
            watched += end - entry;
        }

        return watched > 0 && hazard / watched is > 0 and < double.PositiveInfinity ? hazard / watched : null;
    }

    /// <summary>Hazard of this part against the fleet's mean; null where it rises without bound (age 0, shape below 1).</summary>
    internal double? Ratio()
    {
        Requirements.InRange(Age, 0, double.MaxValue, nameof(Age));
        Requirements.InRange(MeanFleetHazard, double.Epsilon, double.MaxValue, nameof(MeanFleetHazard));
        Requirements.InRange(Pace, double.Epsilon, double.MaxValue, nameof(Pace));
        return Curve.HazardAt(Age) is { } hazard && hazard / MeanFleetHazard * Pace is var ratio && double.IsFinite(ratio) ? ratio : null;
    }

    private static IEnumerable<(double Entry, double End)> Watched(Lives lives) =>
    [
        .. lives.FailedAges.Select((end, i) => (At(lives.FailedEntries, i), end)),
        .. lives.RunningAges.Select((end, i) => (At(lives.RunningEntries, i), end)),
        .. lives.FoundAges.Select((end, i) => (At(lives.FoundEntries, i), (lives.SeenWorkingAges[i] + end) / 2)),
    ];

    private static double At(double[] entries, int index) => entries.Length == 0 ? 0 : entries[index];
}
