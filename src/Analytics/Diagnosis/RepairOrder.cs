namespace Washwear.Analytics.Diagnosis;

/// <summary>What is done when no further check is.</summary>
/// <param name="Causes">Causes to repair, first one first.</param>
/// <param name="Minutes">Mean minutes, weighed by the total probability that was handed in.</param>
internal readonly record struct RepairPlan(IReadOnlyList<int> Causes, double Minutes);

/// <summary>
/// Repairs on suspicion: by decreasing probability per minute (Smith 1956), each one proven at once, as long as the next is worth more than
/// leaving for a second visit. With P the probability left, the least cost from the k-th repair on is min(second visit x P, repair_k x P +
/// least cost from k + 1 on).
/// </summary>
internal static class RepairOrder
{
    /// <summary>The repairs that cost least.</summary>
    /// <param name="joint">Probability of each cause, together with what was seen; need not add to 1.</param>
    /// <param name="repairMinutes">Minutes to repair each cause; null: not on this visit.</param>
    /// <param name="secondVisitMinutes">What leaving costs, minutes.</param>
    public static RepairPlan Of(double[] joint, IReadOnlyList<double?> repairMinutes, double secondVisitMinutes)
    {
        int[] order =
        [
            .. Enumerable.Range(0, joint.Length).Where(cause => joint[cause] > 0 && repairMinutes[cause] is not null)
                .OrderByDescending(cause => joint[cause] / Math.Max(repairMinutes[cause]!.Value, double.Epsilon)),
        ];
        double left = joint.Sum() - order.Sum(cause => joint[cause]);
        left = order.Length == joint.Count(probability => probability > 0) ? 0 : Math.Max(0, left);
        double least = secondVisitMinutes * left;
        int worthTrying = order.Length;
        for (int k = order.Length - 1; k >= 0; k--)
        {
            left += joint[order[k]];
            double tried = (repairMinutes[order[k]]!.Value * left) + least;
            double leave = secondVisitMinutes * left;
            worthTrying = tried <= leave ? worthTrying : k;
            least = Math.Min(tried, leave);
        }

        return new RepairPlan(order[..worthTrying], least);
    }
}
