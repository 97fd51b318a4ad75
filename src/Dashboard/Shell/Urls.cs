using System.Globalization;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Dashboard.Shell;

/// <summary>The only composer of links: a page that moves is changed here and nowhere else.</summary>
public static partial class Urls
{
    /// <summary>What needs somebody today.</summary>
    public const string Today = "/";

    /// <summary>The API reference.</summary>
    public const string Reference = "/reference";

    /// <summary>A file of the library that shows the reference.</summary>
    /// <param name="name">File name.</param>
    /// <returns>Its address.</returns>
    public static string ReferenceFile(string name) => Reference + "/" + name;

    /// <summary>Where a person signs in (GET shows the form, POST sends the key).</summary>
    public const string SignIn = "/sign-in";

    /// <summary>Where a person signs out (POST).</summary>
    public const string SignOut = "/sign-out";

    /// <summary>Rows that were refused at the door.</summary>
    public const string RefusedRows = "/v1/records/refused";

    /// <summary>What changed in the last 24 hours.</summary>
    public const string Digest = "/digest";

    /// <summary>How this installation is kept.</summary>
    public const string Upkeep = "/upkeep";

    /// <summary>Where a reader learns how to begin.</summary>
    public const string Help = "/help";

    /// <summary>Where a form marks an alert as seen (POST).</summary>
    public const string AlertSeenRoute = "/alerts/{id:long}/seen";

    /// <summary>Route of the files that pages need: style sheet, script, icon.</summary>
    public const string AssetRoute = "/assets/{name}";

    /// <summary>Route of a kitchen's own page.</summary>
    public const string SiteRoute = "/sites/{site}";

    /// <summary>Route of a unit's page.</summary>
    public const string UnitRoute = "/units/{unit}";

    /// <summary>Route of the on-time chart; the file's ending is svg or png.</summary>
    public const string ComplianceChartRoute = "/charts/cleaning/on-time.{format}";

    /// <summary>Route of the chart of hours by cause.</summary>
    public const string CauseChartRoute = "/charts/cleaning/causes.{format}";

    /// <summary>Route of the chart of washes on time by week.</summary>
    public const string TrendChartRoute = "/charts/cleaning/trend.{format}";

    /// <summary>Route of a unit's wash calendar.</summary>
    public const string WashCalendarRoute = "/charts/units/{unit}/washes.{format}";

    /// <summary>Route of a unit's chart of early signs.</summary>
    public const string SignChartRoute = "/charts/units/{unit}/signs.{format}";

    /// <summary>A file that pages need, with its content's mark so that it may be cached for good.</summary>
    /// <param name="name">File name, such as site.css.</param>
    /// <param name="mark">Mark of the content.</param>
    /// <returns>The address.</returns>
    public static string Asset(string name, string mark) => Query(Fill(AssetRoute, name), ("v", mark));

    /// <summary>The page of alerts.</summary>
    /// <param name="state">Only alerts in this state; null: all.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Alerts(AlertState? state = null, string? after = null) =>
        Query("/alerts", ("state", state?.ToString().ToLowerInvariant()), ("after", after));

    /// <summary>Alerts as comma-separated values.</summary>
    /// <param name="state">Only alerts in this state; null: all.</param>
    /// <returns>The address.</returns>
    public static string AlertsCsv(AlertState? state) =>
        Query("/v1/alerts", ("state", state?.ToString().ToLowerInvariant()), ("format", "csv"));

    /// <summary>Where a form marks an alert as seen.</summary>
    /// <param name="id">Number of the alert.</param>
    /// <returns>The address.</returns>
    public static string AlertSeen(long id) => Fill(AlertSeenRoute, id.ToString(CultureInfo.InvariantCulture));

    /// <summary>The cleaning page.</summary>
    /// <param name="filter">What the reader asked for; null: everything.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Cleaning(CleaningFilter? filter = null, string? after = null) =>
        Query("/cleaning", [.. Pairs(filter), ("after", after)]);

    /// <summary>The cleaning page with one state chosen.</summary>
    /// <param name="state">The state.</param>
    /// <returns>The address.</returns>
    public static string Cleaning(CleaningState state) => Cleaning(CleaningFilter.All with { State = state });

    /// <summary>The cleaning states as comma-separated values.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string CleaningStatusCsv(CleaningFilter filter)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return Query(
            "/v1/cleaning/status",
            [.. StatePairs(filter), .. UnitPairs(filter), ("format", "csv")]);
    }

    /// <summary>Compliance as comma-separated values.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string ComplianceCsv(CleaningFilter filter) =>
        Query("/v1/cleaning/compliance", [.. CompliancePairs(filter), ("format", "csv")]);

    /// <summary>The on-time chart.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string ComplianceChart(CleaningFilter filter, string format) =>
        Query(Fill(ComplianceChartRoute, format), CompliancePairs(filter));

    /// <summary>The chart of hours by cause.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string CauseChart(CleaningFilter filter, string format) =>
        Query(Fill(CauseChartRoute, format), CompliancePairs(filter));

    /// <summary>The chart of washes on time by week.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string TrendChart(CleaningFilter filter, string format)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return Query(Fill(TrendChartRoute, format), UnitPairs(filter));
    }

    /// <summary>The weeks as comma-separated values.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string TrendCsv(CleaningFilter filter)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return Query("/v1/cleaning/trend", [.. UnitPairs(filter), ("format", "csv")]);
    }

    /// <summary>The list of kitchens.</summary>
    /// <param name="search">Part of a name or code; null: all.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Sites(string? search = null, string? after = null) => Query("/sites", ("q", search), ("after", after));

    /// <summary>A kitchen's own page.</summary>
    /// <param name="site">Code of the site.</param>
    /// <returns>The address.</returns>
    public static string Site(string site) => Fill(SiteRoute, site);

    /// <summary>The list of units.</summary>
    /// <param name="search">Part of an asset tag, serial number or site; null: all.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Units(string? search = null, string? after = null) => Query("/units", ("q", search), ("after", after));

    /// <summary>A unit's page.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <returns>The address.</returns>
    public static string Unit(string unit) => Fill(UnitRoute, unit);

    /// <summary>A unit's records, as JSON or comma-separated values.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="format">json or csv.</param>
    /// <returns>The address.</returns>
    public static string UnitHistory(string unit, string format) =>
        Query(Fill("/v1/units/{unit}/history", unit), ("format", format == "json" ? null : format));

    /// <summary>A unit's wash calendar.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string WashCalendar(string unit, string format) => Fill(WashCalendarRoute, unit, format);

    /// <summary>A unit's chart of early signs.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string SignChart(string unit, string format) => Fill(SignChartRoute, unit, format);

    /// <summary>The place on a unit's page that tells of its early signs.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <returns>The address.</returns>
    public static string UnitSigns(string unit) => Unit(unit) + "#signs";

    /// <summary>Units whose washes are getting worse as comma-separated values.</summary>
    /// <param name="filter">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string EarlySignsCsv(CleaningFilter filter)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return Query("/v1/cleaning/early-signs", [.. UnitPairs(filter), ("format", "csv")]);
    }

    /// <summary>The code of a state as addresses and the API spell it.</summary>
    /// <param name="state">The state; null: any.</param>
    /// <returns>Lower case with underscores; null for null.</returns>
    public static string? StateCode(CleaningState? state) => state is null ? null : Snake(state.Value.ToString());

    internal static string Snake(string name) =>
        string.Concat(name.Select((letter, i) =>
            char.IsUpper(letter) && i > 0 ? "_" + char.ToLowerInvariant(letter) : char.ToLowerInvariant(letter).ToString()));

    private static (string Name, string? Value)[] Pairs(CleaningFilter? filter) => filter is null
        ? []
        : [.. StatePairs(filter), .. CompliancePairs(filter)];

    private static (string Name, string? Value)[] StatePairs(CleaningFilter filter) =>
    [
        ("state", StateCode(filter.State)), ("whose_move", filter.Move?.ToString().ToLowerInvariant()),
        ("unwashed_days", filter.UnwashedDays?.ToString(CultureInfo.InvariantCulture)),
    ];

    private static (string Name, string? Value)[] UnitPairs(CleaningFilter filter) =>
    [
        ("operator", filter.Operator), ("region", filter.Region), ("site", filter.Site), ("model", filter.Model), ("unit", filter.Unit),
    ];

    private static (string Name, string? Value)[] CompliancePairs(CleaningFilter filter)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return
        [
            .. UnitPairs(filter),
            ("by", filter.By == CleaningFilter.All.By ? null : filter.By),
            ("days", filter.WindowDays == CleaningFilter.All.WindowDays
                ? null
                : filter.WindowDays.ToString(CultureInfo.InvariantCulture)),
        ];
    }

    // Fills the holes of a route in order; codes are the user's own and may hold any printable character.
    private static string Fill(string route, params string[] values)
    {
        foreach (string value in values)
        {
            int open = route.IndexOf('{', StringComparison.Ordinal);
            int close = route.IndexOf('}', StringComparison.Ordinal);
            route = route[..open] + Segment(value) + route[(close + 1)..];
        }

        return route;
    }

    // Browsers take a segment of one or two dots away, escaped or not; no resource answers to such a code anyway.
    private static string Segment(string value) => Uri.EscapeDataString(value);

    // Who clicks a link to a file opens it in a spreadsheet, which takes it apart as its country does.
    private static (string Name, string? Value)[] ForSpreadsheet =>
        ReaderPreferences.Current.Culture.DecimalMark == "," ? [("decimal_mark", "comma")] : [];

    private static string Query(string path, params (string Name, string? Value)[] pairs)
    {
        IEnumerable<string> parts = pairs
            .Concat(path.EndsWith(".csv", StringComparison.Ordinal) || Array.Exists(pairs, pair => pair is ("format", "csv")) ? ForSpreadsheet : [])
            .Where(pair => !string.IsNullOrEmpty(pair.Value))
            .Select(pair => pair.Name + "=" + Uri.EscapeDataString(pair.Value!));
        string query = string.Join('&', parts);
        return query.Length == 0 ? path : path + "?" + query;
    }
}
