using Washwear.Api.Http;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Columns of a unit's lists as CSV.</summary>
public static class UnitColumns
{
    /// <summary>Columns of the list of units.</summary>
    public static IReadOnlyList<CsvColumn<UnitListRow>> Listed { get; } =
    [
        new("unit", row => row.Unit),
        new("serial", row => row.Serial),
        new("model", row => row.Model),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator_name", row => row.OperatorName),
        new("state", row => row.State),
        new("last_heard_at", row => row.LastHeardAt),
    ];

    /// <summary>Columns of the parts fitted now.</summary>
    public static IReadOnlyList<CsvColumn<FittedPart>> Parts { get; } =
    [
        new("position", row => row.Position),
        new("name", row => row.Name),
        new("part_number", row => row.PartNumber),
        new("fitted_at", row => row.FittedAt),
        new("age_days", row => row.AgeDays),
        new("age_washes", row => row.AgeWashes),
        new("chance_to_fail_90_days", row => row.ChanceToFail90Days?.Value),
        new("chance_lower", row => row.ChanceToFail90Days?.Lower),
        new("chance_upper", row => row.ChanceToFail90Days?.Upper),
        new("chance_basis", row => row.ChanceBasis),
    ];

    /// <summary>Columns of the timeline.</summary>
    public static IReadOnlyList<CsvColumn<HistoryItem>> History { get; } =
    [
        new("seq", row => row.Seq),
        new("at", row => row.At),
        new("type", row => row.Type),
        new("source", row => row.Source),
        new("key", row => row.Key),
        new("received_at", row => row.ReceivedAt),
        new("text", row => row.Text),
        new("voided", row => row.Voided),
    ];
}
