using Washwear.Api.Http;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>Columns of the lists of failures as CSV.</summary>
public static class FailureColumns
{
    /// <summary>Columns that the records can be sorted by.</summary>
    public static IReadOnlyList<SortColumn<FailureRow>> Sorted { get; } =
    [
        new("at", row => row.At), new("unit", row => row.Unit), new("what", row => row.Name), new("faults", row => row.Faults), new("part", row => row.PartNumber),
        new("locked_out", row => row.LockedOutHours), new("unwashed", row => row.UnwashedDays),
    ];

    /// <summary>Columns of the months.</summary>
    public static IReadOnlyList<CsvColumn<FailureMonth>> Months { get; } =
    [
        new("month", row => row.Month),
        new("from", row => row.From),
        new("to", row => row.To),
        new("failures", row => row.Failures),
        new("unit_years", row => row.UnitYears),
        new("per_unit_year", row => row.RatePerUnitYear?.Value),
        new("lower", row => row.RatePerUnitYear?.Lower),
        new("upper", row => row.RatePerUnitYear?.Upper),
        new("washes", row => row.Washes),
        new("per_thousand_washes", row => row.RatePerThousandWashes?.Value),
        new("per_thousand_washes_lower", row => row.RatePerThousandWashes?.Lower),
        new("per_thousand_washes_upper", row => row.RatePerThousandWashes?.Upper),
    ];

    /// <summary>Columns of the steps of recurrence.</summary>
    public static IReadOnlyList<CsvColumn<(string Group, RecurrenceStep Step)>> Recurrence { get; } =
    [
        new("group", row => row.Group),
        new("day", row => row.Step.Day),
        new("at_risk", row => row.Step.AtRisk),
        new("failures", row => row.Step.Failures),
        new("mean", row => row.Step.Mean),
        new("lower", row => row.Step.Lower),
        new("upper", row => row.Step.Upper),
    ];

    /// <summary>Columns of the rates.</summary>
    public static IReadOnlyList<CsvColumn<RateRow>> Rates { get; } =
    [
        new("code", row => row.Code),
        new("name", row => row.Name),
        new("failures", row => row.Figures.Failures),
        new("unit_years", row => row.Figures.UnitYears),
        new("per_unit_year", row => row.Figures.PerUnitYear?.Value),
        new("lower", row => row.Figures.PerUnitYear?.Lower),
        new("upper", row => row.Figures.PerUnitYear?.Upper),
        new("washes", row => row.Figures.Washes),
        new("per_thousand_washes", row => row.Figures.PerThousandWashes?.Value),
        new("shrunken", row => row.Shrunken.Value),
        new("shrunken_lower", row => row.Shrunken.Lower),
        new("shrunken_upper", row => row.Shrunken.Upper),
        new("ratio_to_others", row => row.RatioToOthers?.Value),
        new("chance_worse", row => row.ChanceWorse),
        new("p_value", row => row.PValue),
        new("adjusted_p_value", row => row.AdjustedPValue),
        new("called", row => row.Called),
    ];

    /// <summary>Columns of the repeats.</summary>
    public static IReadOnlyList<CsvColumn<RepeatRow>> Repeats { get; } =
    [
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("position", row => row.Position),
        new("code", row => row.Code),
        new("name", row => row.Name),
        new("repaired_at", row => row.RepairedAt),
        new("failed_again_at", row => row.FailedAgainAt),
        new("days", row => row.Days),
        new("part_number", row => row.PartNumber),
        new("batch", row => row.Batch),
        new("points_to", row => Json.Name(row.PointsTo.ToString())),
        new("evidence", row => row.Evidence),
    ];

    /// <summary>Columns of the Pareto table.</summary>
    public static IReadOnlyList<CsvColumn<ParetoRow>> Pareto { get; } =
    [
        new("position", row => row.Position),
        new("code", row => row.Code),
        new("name", row => row.Name),
        new("count", row => row.Count),
        new("locked_out_hours", row => row.LockedOutHours),
        new("unwashed_days", row => row.UnwashedDays),
        new("share", row => row.Share),
        new("cumulative_share", row => row.CumulativeShare),
        new("earlier_count", row => row.EarlierCount),
        new("change", row => row.Change?.Value),
        new("change_lower", row => row.Change?.Lower),
        new("change_upper", row => row.Change?.Upper),
        new("adjusted_p_value", row => row.AdjustedPValue),
    ];

    /// <summary>Columns of the failures themselves.</summary>
    public static IReadOnlyList<CsvColumn<FailureRow>> Records { get; } =
    [
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("at", row => row.At),
        new("until", row => row.Until),
        new("code", row => row.Code),
        new("position", row => row.Position),
        new("name", row => row.Name),
        new("faults", row => row.Faults),
        new("failure_mode", row => row.FailureMode),
        new("part_number", row => row.PartNumber),
        new("batch", row => row.Batch),
        new("age_days", row => row.AgeDays),
        new("locked_out_hours", row => row.LockedOutHours),
        new("unwashed_days", row => row.UnwashedDays),
    ];
}
