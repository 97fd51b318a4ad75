using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on a trial.</summary>
public static class WhatIfSentences
{
    /// <summary>The finding.</summary>
    /// <param name="now">The plan as things are.</param>
    /// <param name="then">The plan as they would be.</param>
    /// <param name="changed">Positions whose answer changes.</param>
    /// <param name="isNewPrice">Whether another price of an hour locked out is tried, at which both are counted.</param>
    public static string Finding(PlanTotals now, PlanTotals then, int changed, bool isNewPrice)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(then);
        WhatIfFindingTexts texts = WhatIfTexts.Now.Finding;
        return Fill.In(
            isNewPrice ? texts.TotalsAtNewPrice : texts.Totals,
            ("change", changed == 0 ? texts.NoChange : texts.Changes.For(changed)),
            ("visits", now.Visits.ToString(CultureInfo.InvariantCulture)),
            ("visits_then", then.Visits.ToString(CultureInfo.InvariantCulture)),
            ("failures", Text.Number(now.Failures)),
            ("failures_then", Text.Number(then.Failures)),
            ("days", Text.Number(now.UnwashedDays)),
            ("days_then", Text.Number(then.UnwashedDays)),
            ("cost", Text.Number(now.Cost)),
            ("cost_then", Text.Number(then.Cost)));
    }
}
