using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>A stretch of age, above <see cref="From"/> and up to <see cref="To"/>.</summary>
/// <param name="From">Age at its begin.</param>
/// <param name="To">Age at its end, above the begin.</param>
public readonly record struct WatchedStretch(double From, double To);

/// <summary>Mean number of events a unit by age, for units that may have been watched over different stretches.</summary>
/// <param name="Units">Units watched beyond <paramref name="FromAge"/>.</param>
/// <param name="Events">Their events after that age.</param>
/// <param name="FromAge">Age from which events are counted; 0 for all.</param>
/// <param name="LastAge">Greatest age at which any unit was watched: the curve says nothing beyond it; null without units.</param>
/// <param name="Level">Confidence level of the bounds.</param>
/// <param name="Steps">One step for each distinct age at which events happened, ascending; empty without events.</param>
/// <param name="Unwatched">
/// Stretches between <paramref name="FromAge"/> and the last age in which no unit was watched: the curve is level there for want of
/// records, and what happened there is missing from it ever after.
/// </param>
/// <param name="WatchedAlone">Stretches in which one unit only was watched: the curve is that unit's own there.</param>
public sealed record MeanCumulativeCurve(
    int Units,
    int Events,
    double FromAge,
    double? LastAge,
    double Level,
    IReadOnlyList<MeanCumulativeStep> Steps,
    IReadOnlyList<WatchedStretch> Unwatched,
    IReadOnlyList<WatchedStretch> WatchedAlone)
{
    /// <summary>Mean number of events a unit up to an age; null below <see cref="FromAge"/> and beyond <see cref="LastAge"/>.</summary>
    /// <param name="age">Age, in the unit of the clock.</param>
    public double? MeanAt(double age) => age >= FromAge && age <= LastAge ? StepAt(age)?.Mean ?? 0 : null;

    /// <summary>Last step at or before an age, which holds up to the next one; null before the first.</summary>
    /// <param name="age">Age, in the unit of the clock.</param>
    public MeanCumulativeStep? StepAt(double age)
    {
        int low = 0, high = Steps.Count;
        while (low < high)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = Steps[middle].Age <= age ? (middle + 1, high) : (low, middle);
        }

        return low == 0 ? null : Steps[low - 1];
    }

    /// <summary>
    /// How many more events a unit has had here than in another curve by an age, with robust bounds on the plain scale. The two must have
    /// no unit in common. Where one of the curves has no event up to the age, the bounds know nothing of its spread and are too narrow.
    /// </summary>
    /// <param name="other">The curve to compare with, on the same clock and counted from the same age.</param>
    /// <param name="age">Age, in the unit of the clock.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <returns>
    /// Null where the age lies outside one of the curves; bounds are null without any event or where either has no robust error.
    /// </returns>
    public Estimate? DifferenceFrom(MeanCumulativeCurve other, double age, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(other);
        double z = ConfidenceLevel.NormalQuantile(level);
        if (MeanAt(age) is not { } mine || other.MeanAt(age) is not { } theirs)
        {
            return null;
        }

        (MeanCumulativeStep? a, MeanCumulativeStep? b) = (StepAt(age), other.StepAt(age));
        double? first = a is { } x ? x.SeRobust : 0, second = b is { } y ? y.SeRobust : 0;
        double? reach = (a is null && b is null) || first is null || second is null ? null
            : z * Math.Sqrt((first.Value * first.Value) + (second.Value * second.Value));
        return new Estimate(mine - theirs, mine - theirs - reach, mine - theirs + reach, level, "robust, plain scale");
    }

    /// <summary>
    /// At most so many steps for a chart or table: the first, and the last one within each of equal stretches of age. Each stands where the
    /// curve does; its events are those since the step given before it, so that they add up to all.
    /// </summary>
    /// <param name="most">Most steps to give, 2 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than 2 steps are asked for.</exception>
    public IReadOnlyList<MeanCumulativeStep> Thinned(int most = 400)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 2);
        if (Steps.Count <= most)
        {
            return Steps;
        }

        double first = Steps[0].Age, width = Steps[^1].Age - first;
        int Stretch(int i) => (int)Math.Min(most - 2, Math.Floor((Steps[i].Age - first) / width * (most - 1)));
        var kept = new List<MeanCumulativeStep>(most);
        int events = 0;
        for (int i = 0; i < Steps.Count; i++)
        {
            events += Steps[i].Events;
            if (i == 0 || i == Steps.Count - 1 || Stretch(i) != Stretch(i + 1))
            {
                kept.Add(Steps[i] with { Events = events });
                events = 0;
            }
        }

        return kept;
    }
}
