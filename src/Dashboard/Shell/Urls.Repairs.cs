using System.Globalization;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Repairs;

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

    /// <summary>The place on the first page that lists repairs that are not proven.</summary>
    public const string UnprovenRepairs = Today + "#unproven";

    /// <summary>The place on the page of approvals that tells where the time of lockouts goes.</summary>
    public const string Delays = ApprovalsRoute + "#delays";

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

    /// <summary>The page on the quality of repairs.</summary>
    /// <param name="choice">What the reader asked for; null: as it opens.</param>
    /// <returns>The address; where a code or position is chosen, the place of the faults behind it.</returns>
    public static string Repairs(RepairChoice? choice = null) => Query(RepairsRoute, RepairPairs(choice ?? new RepairChoice()))
        + (choice is { Code: not null } or { Position: not null } ? "#behind" : string.Empty);

    /// <summary>The quality of repairs as comma-separated values.</summary>
    /// <param name="choice">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string RepairQualityCsv(RepairChoice choice) => Query("/v1/repairs/quality", [.. RepairPairs(choice), ("format", "csv")]);

    /// <summary>The faults behind the figures as comma-separated values.</summary>
    /// <param name="choice">What the reader asked for.</param>
    /// <returns>The address.</returns>
    public static string RepairEpisodesCsv(RepairChoice choice) => Query("/v1/repairs/episodes", [.. RepairPairs(choice), ("format", "csv")]);

    private static (string Name, string? Value)[] RepairPairs(RepairChoice choice)
    {
        ArgumentNullException.ThrowIfNull(choice);
        var usual = new RepairChoice();
        return
        [
            ("operator", choice.Operator), ("code", choice.Code), ("position", choice.Position),
            ("days", choice.Days == usual.Days ? null : choice.Days.ToString(CultureInfo.InvariantCulture)),
            ("repeat_days", choice.RepeatDays == usual.RepeatDays ? null : choice.RepeatDays.ToString(CultureInfo.InvariantCulture)),
        ];
    }

    private static (string Name, string? Value)[] DelayPairs(string by, int days) =>
        [("by", by), ("days", days.ToString(CultureInfo.InvariantCulture))];

    private static (string Name, string? Value)[] PlacePairs(ApprovalFilter? filter) =>
        [("operator", filter?.Operator), ("site", filter?.Site), ("unit", filter?.Unit)];
}
