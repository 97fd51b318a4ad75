using Washwear.Api.Http;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>Columns of the part-life lists as CSV.</summary>
public static class PartLifeColumns
{
    /// <summary>Columns that the parts can be sorted by.</summary>
    public static IReadOnlyList<SortColumn<PartLifeRow>> Sorted { get; } =
    [
        new("unit", row => row.Unit), new("part", row => row.PartNumber), new("fitted", row => row.FittedAt), new("ended", row => row.EndedAt),
        new("how", row => row.EndedHow), new("entry", row => row.EntryAgeDays), new("days", row => row.AgeDays), new("washes", row => row.AgeWashes),
        new("hours", row => row.AgeOperatingHours), new("left_out", row => row.Doubt),
    ];

    /// <summary>Columns of the Kaplan–Meier steps.</summary>
    public static IReadOnlyList<CsvColumn<KaplanMeierStep>> KaplanMeier { get; } =
    [
        new("age", row => row.Age),
        new("at_risk", row => row.AtRisk),
        new("failures", row => row.Failures),
        new("survival", row => row.Survival),
        new("lower", row => row.Lower),
        new("upper", row => row.Upper),
    ];

    /// <summary>Columns of the lives.</summary>
    public static IReadOnlyList<CsvColumn<PartLifeRow>> Lives { get; } =
    [
        new("unit", row => row.Unit),
        new("model", row => row.Model),
        new("position", row => row.Position),
        new("ordinal", row => row.Ordinal),
        new("part_number", row => row.PartNumber),
        new("batch", row => row.Batch),
        new("fitted_at", row => row.FittedAt),
        new("ended_at", row => row.EndedAt),
        new("ended_how", row => row.EndedHow),
        new("failure_mode", row => row.FailureMode),
        new("entry_age_days", row => row.EntryAgeDays),
        new("age_days", row => row.AgeDays),
        new("age_washes", row => row.AgeWashes),
        new("age_operating_hours", row => row.AgeOperatingHours),
        new("supplier", row => row.Supplier),
        new("looked_poor", row => row.LookedPoor),
        new("doubt", row => row.Doubt),
    ];

    /// <summary>Columns of the cumulative incidence of failure modes.</summary>
    public static IReadOnlyList<CsvColumn<(string? Mode, IncidencePoint Step)>> Incidence { get; } =
    [
        new("failure_mode", row => row.Mode),
        new("age", row => row.Step.Age),
        new("failures", row => row.Step.Failures),
        new("incidence", row => row.Step.Incidence),
        new("standard_error", row => row.Step.StandardError),
        new("lower", row => row.Step.Lower),
        new("upper", row => row.Step.Upper),
    ];
}
