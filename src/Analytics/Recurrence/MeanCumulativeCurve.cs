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
    /// At most so many steps for a chart: the first, and the last one within each of equal stretches of age. Each is a true step of the
    /// curve; only those between are left out.
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
        return
        [
            .. Enumerable.Range(0, Steps.Count)
                .Where(i => i == 0 || i == Steps.Count - 1 || Stretch(i) != Stretch(i + 1))
                .Select(i => Steps[i]),
        ];
    }
}
