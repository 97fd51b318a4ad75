using System.Globalization;
using Washwear.Dashboard.Approvals;

namespace Washwear.Dashboard.Shell;

/// <content>Links of approvals and repairs.</content>
public static partial class Urls
{
    /// <summary>Route of the page of approvals.</summary>
    public const string ApprovalsRoute = "/approvals";

    /// <summary>Where a form decides an approval (POST).</summary>
    public const string ApprovalDecisionRoute = "/approvals/{id:long}/decision";

    /// <summary>Route of the page on the quality of repairs.</summary>
    public const string RepairsRoute = "/repairs";

    /// <summary>Route of the chart of delays; the file's ending is svg or png.</summary>
    public const string DelayChartRoute = "/charts/repairs/delays.{format}";

    /// <summary>The page of approvals.</summary>
    /// <param name="filter">Whose approvals; null: all.</param>
    /// <param name="decided">Number of the record of a decision made a moment ago; null: none.</param>
    /// <returns>The address.</returns>
    public static string Approvals(ApprovalFilter? filter = null, long? decided = null) => Query(
        ApprovalsRoute, [.. PlacePairs(filter), ("decided", decided?.ToString(CultureInfo.InvariantCulture))]);

    /// <summary>Approvals as comma-separated values.</summary>
    /// <param name="filter">Which approvals.</param>
    /// <returns>The address.</returns>
    public static string ApprovalsCsv(ApprovalFilter filter)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return Query("/v1/approvals", [("state", filter.State is { } state ? Snake(state.ToString()) : "all"), .. PlacePairs(filter), ("format", "csv")]);
    }

    /// <summary>Where a form decides an approval.</summary>
    /// <param name="id">Number of its record.</param>
    /// <returns>The address.</returns>
    public static string ApprovalDecision(long id) => Fill(ApprovalDecisionRoute, id.ToString(CultureInfo.InvariantCulture));

    /// <summary>The chart of delays.</summary>
    /// <param name="by">What a bar stands for.</param>
    /// <param name="days">Length of the window, days.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string DelayChart(string by, int days, string format) => Query(Fill(DelayChartRoute, format), DelayPairs(by, days));

    /// <summary>Delays as comma-separated values.</summary>
    /// <param name="by">What a row stands for.</param>
    /// <param name="days">Length of the window, days.</param>
    /// <returns>The address.</returns>
    public static string DelaysCsv(string by, int days) => Query("/v1/repairs/delays", [.. DelayPairs(by, days), ("format", "csv")]);

    private static (string Name, string? Value)[] DelayPairs(string by, int days) =>
        [("by", by), ("days", days.ToString(CultureInfo.InvariantCulture))];

    private static (string Name, string? Value)[] PlacePairs(ApprovalFilter? filter) =>
        [("operator", filter?.Operator), ("site", filter?.Site), ("unit", filter?.Unit)];
}
