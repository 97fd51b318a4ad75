using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on a trial.</summary>
public static class WhatIfSentences
{
    /// <summary>The finding.</summary>
    /// <param name="now">The plan as things are.</param>
    /// <param name="then">The plan as they would be.</param>
    /// <param name="changed">Positions whose answer changes.</param>
    public static string Finding(PlanTotals now, PlanTotals then, int changed)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(then);
        string answers = changed == 0 ? "The best age changes at no position" : $"The best age changes at {Text.Counted(changed, "position")} of a model";
        return $"{answers}; over the horizon visits go from {now.Visits} to {then.Visits}, failures from {Text.Number(now.Failures)} to {Text.Number(then.Failures)}, "
            + $"days without a wash from {Text.Number(now.UnwashedDays)} to {Text.Number(then.UnwashedDays)}, and all costs from {Text.Number(now.Cost)} to {Text.Number(then.Cost)}.";
    }
}
