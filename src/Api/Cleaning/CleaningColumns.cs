using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Cleaning;

/// <summary>Columns of the cleaning lists as CSV.</summary>
public static class CleaningColumns
{
    /// <summary>Columns that the list of states can be sorted by.</summary>
    public static IReadOnlyList<SortColumn<UnitCleaning>> Sorted { get; } =
    [
        new("unit", row => row.Unit), new("site", row => row.SiteName), new("state", row => CleaningReports.UrgencyOf(row.State)), new("past", row => row.OverdueHours),
        new("washed", row => row.LastCountedWashAt), new("move", row => row.WhoseMove),
    ];

    /// <summary>Columns of the status list.</summary>
    public static IReadOnlyList<CsvColumn<UnitCleaning>> Status { get; } =
    [
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator", row => row.Operator),
        new("operator_name", row => row.OperatorName),
        new("model", row => row.Model),
        new("region", row => row.Region),
        new("time_zone", row => row.TimeZone),
        new("rule", row => row.Rule),
        new("rule_text", row => row.RuleText),
        new("rule_basis", row => row.RuleBasis),
        new("state", row => row.State),
        new("cause", row => row.Cause),
        new("since", row => row.Since),
        new("whose_move", row => row.WhoseMove),
        new("last_counted_wash_at", row => row.LastCountedWashAt),
        new("due_at", row => row.DueAt),
        new("overdue_hours", row => row.OverdueHours),
        new("sentence", row => row.Sentence),
        new("grade", row => row.Grade),
    ];

    /// <summary>Columns of the weeks: the figures, then the hours of each cause.</summary>
    public static IReadOnlyList<CsvColumn<TrendWeek>> Trend { get; } =
    [
        new("week", row => row.Week),
        new("from", row => row.From),
        new("to", row => row.To),
        new("units", row => row.Units),
        new("due", row => row.Due),
        new("on_time", row => row.OnTime),
        new("on_time_share", row => row.OnTimeShare?.Value),
        new("on_time_share_lower", row => row.OnTimeShare?.Lower),
        new("on_time_share_upper", row => row.OnTimeShare?.Upper),
        new("time_within_share", row => row.TimeWithinShare),
        new("window_hours", row => row.WindowHours),
        .. Enum.GetValues<Cause>().Select(cause =>
            new CsvColumn<TrendWeek>(Json.Name(cause.ToString()) + "_hours", row => row.HoursByCause.GetValueOrDefault(cause))),
    ];

    /// <summary>Columns of the compliance list: the row's figures, then the hours of each cause.</summary>
    public static IReadOnlyList<CsvColumn<ComplianceRow>> Compliance { get; } =
    [
        new("group", row => row.Group),
        new("name", row => row.Name),
        new("units", row => row.Units),
        new("due", row => row.Due),
        new("on_time", row => row.OnTime),
        new("on_time_share", row => row.OnTimeShare?.Value),
        new("on_time_share_lower", row => row.OnTimeShare?.Lower),
        new("on_time_share_upper", row => row.OnTimeShare?.Upper),
        new("time_within_share", row => row.TimeWithinShare),
        new("longest_gap_hours", row => row.LongestGapHours),
        new("longest_gap_unit", row => row.LongestGapUnit),
        new("window_hours", row => row.WindowHours),
        .. Enum.GetValues<Cause>().Select(cause =>
            new CsvColumn<ComplianceRow>(Json.Name(cause.ToString()) + "_hours", row => row.HoursByCause.GetValueOrDefault(cause))),
        new("not_yet_there_hours", row => row.NotYetThereHours),
    ];
}
