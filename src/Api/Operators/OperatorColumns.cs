using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Dashboard.Operators;

namespace Washwear.Api.Operators;

/// <summary>Columns of an operator's lists as CSV.</summary>
public static class OperatorColumns
{
    /// <summary>Columns of the kitchens.</summary>
    public static IReadOnlyList<CsvColumn<OperatorKitchen>> Kitchens { get; } =
    [
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("region", row => row.Region),
        new("units", row => row.Units),
        new("units_that_wait", row => row.UnitsThatWait),
        .. Enum.GetValues<CleaningState>().Select(state =>
            new CsvColumn<OperatorKitchen>("units_" + Json.Name(state.ToString()), row => row.UnitsByState.GetValueOrDefault(state))),
        new("unit", row => row.Worst?.Unit),
        new("state", row => row.Worst?.State),
        new("cause", row => row.Worst?.Cause),
        new("since", row => row.Worst?.Since),
        new("whose_move", row => row.Worst?.WhoseMove),
        new("overdue_hours", row => row.Worst?.OverdueHours),
        new("next_step", row => row.NextStep),
        new("sentence", row => row.Worst?.Sentence),
    ];
}
