using Washwear.Analytics.Repairs;
using Washwear.Api.Http;
using Washwear.Dashboard.Repairs;

namespace Washwear.Api.Repairs;

/// <summary>Columns of repairs as CSV.</summary>
internal static class RepairColumns
{
    /// <summary>Columns of delays.</summary>
    public static readonly CsvColumn<DelayRow>[] Delays =
    [
        new("code", row => row.Code),
        new("name", row => row.Name),
        new("lockouts", row => row.Lockouts),
        new("hours", row => row.Hours),
        .. Enum.GetValues<DelaySort>().Select(sort => new CsvColumn<DelayRow>("hours_" + Json.Name(sort.ToString()), row => row.Of(sort))),
        .. Enum.GetValues<DelayKind>().Select(kind => new CsvColumn<DelayRow>("hours_" + Json.Name(kind.ToString()), row => row.Of(kind))),
    ];

    /// <summary>Columns of quality.</summary>
    public static readonly CsvColumn<QualityRow>[] Quality =
    [
        new("by", row => row.By),
        new("code", row => row.Code),
        new("name", row => row.Name),
        .. Share("first_visit_fix", row => row.FirstVisitFix),
        .. Share("repeat", row => row.Repeat),
        .. Share("proven", row => row.Proven),
    ];

    /// <summary>Columns of faults.</summary>
    public static readonly CsvColumn<EpisodeRow>[] Episodes =
    [
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("time_zone", row => row.TimeZone),
        new("code", row => row.Code),
        new("position", row => row.Position),
        new("raised_at", row => row.RaisedAt),
        new("cleared_at", row => row.ClearedAt),
        new("visits", row => string.Join("; ", row.Visits)),
        new("result", row => row.Result),
        new("came_back_at", row => row.CameBackAt),
    ];

    private static CsvColumn<QualityRow>[] Share(string name, Func<QualityRow, CountedShare> share) =>
    [
        new(name + "_count", row => share(row).Count),
        new(name + "_cases", row => share(row).Cases),
        new(name + "_share", row => share(row).Share?.Value),
        new(name + "_lower", row => share(row).Share?.Lower),
        new(name + "_upper", row => share(row).Share?.Upper),
    ];
}
