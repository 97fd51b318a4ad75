using Washwear.Api.Http;
using Washwear.Dashboard.Approvals;

namespace Washwear.Api.Approvals;

/// <summary>Columns of approvals as CSV.</summary>
internal static class ApprovalColumns
{
    /// <summary>Columns of the list.</summary>
    public static readonly CsvColumn<ApprovalRow>[] Rows =
    [
        new("id", row => row.Id),
        new("source", row => row.Source),
        new("key", row => row.Key),
        new("state", row => row.State),
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator", row => row.Operator),
        new("operator_name", row => row.OperatorName),
        new("time_zone", row => row.TimeZone),
        new("what", row => row.What),
        new("amount", row => row.Amount),
        new("fault_code", row => row.FaultCode),
        new("fault_text", row => row.FaultText),
        new("position", row => row.Position),
        new("position_name", row => row.PositionName),
        new("position_from", row => row.PositionFrom),
        new("asked_at", row => row.AskedAt),
        new("waited_hours", row => row.WaitedHours),
        new("unwashed_days", row => row.UnwashedDays),
        new("unwashed_days_next_week", row => row.UnwashedDaysNextWeek),
        new("companion_chance_30_days", row => row.CompanionChance30Days),
        new("companions", row => string.Join("; ", row.Companions)),
        new("units_at_site", row => row.UnitsAtSite),
        new("other_units_that_wash", row => row.OtherUnitsThatWash),
        new("decided_at", row => row.DecidedAt),
        new("decided_by", row => row.DecidedBy),
        new("note", row => row.Note),
        new("sentence", row => row.Sentence),
        new("doubts", row => string.Join(" ", row.Doubts)),
        new("decided_by_asker", row => row.DecidedByAsker),
    ];
}
