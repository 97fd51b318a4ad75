using Washwear.Api.Http;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Sites;

namespace Washwear.Api.Sites;

/// <summary>Columns of kitchens and of their units as CSV.</summary>
public static class SiteColumns
{
    /// <summary>Columns of the list of kitchens.</summary>
    public static IReadOnlyList<CsvColumn<SiteListRow>> Listed { get; } =
    [
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator_name", row => row.OperatorName),
        new("region", row => row.Region),
        new("units", row => row.Units),
        .. CleaningWords.States.Select(state => new CsvColumn<SiteListRow>("units_" + Json.Name(state.ToString()), row => row.UnitsByState.GetValueOrDefault(state))),
    ];

    /// <summary>Columns of the units.</summary>
    public static IReadOnlyList<CsvColumn<KitchenUnit>> Kitchen { get; } =
    [
        new("unit", row => row.Unit),
        new("model_name", row => row.ModelName),
        new("task", row => row.Task),
        new("state", row => row.State),
        new("to_do", row => row.ToDo),
        new("washed", row => row.Washed),
        new("next_wash", row => row.NextWash),
        new("next_wash_due_at", row => row.NextWashDueAt),
        new("whose_move", row => row.WhoseMove),
        new("ask_whom", row => row.AskWhom),
        new("also", row => string.Join("; ", row.Also)),
    ];
}
