using Washwear.Dashboard.Failures;

namespace Washwear.Dashboard.Shell;

/// <content>Links of operators.</content>
public static partial class Urls
{
    /// <summary>Route of an operator's page.</summary>
    public const string OperatorRoute = "/operators/{operator}";

    /// <summary>The list of operators.</summary>
    /// <param name="search">Part of a name or code; null: all.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Operators(string? search = null, string? after = null) => Query("/operators", ("q", search), ("after", after));

    /// <summary>An operator's page.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <param name="after">Cursor of the page of kitchens wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string Operator(string operatorCode, string? after = null) => Query(Fill(OperatorRoute, operatorCode), ("after", after));

    /// <summary>An operator's kitchens, as JSON or comma-separated values.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <param name="format">json or csv.</param>
    /// <returns>The address.</returns>
    public static string OperatorOverview(string operatorCode, string format) =>
        Query(Fill("/v1/operators/{operator}/overview", operatorCode), ("format", format == "json" ? null : format));

    /// <summary>Route of an operator's month.</summary>
    public const string OperatorReportRoute = "/operators/{operator}/report";

    /// <summary>An operator's month.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <param name="month">The month, such as 2026-10; null: the last one that is over.</param>
    /// <returns>The address.</returns>
    public static string OperatorReport(string operatorCode, string? month = null) => Query(Fill(OperatorReportRoute, operatorCode), ("month", month));

    /// <summary>An operator's month as JSON.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <param name="month">The month.</param>
    /// <returns>The address.</returns>
    public static string OperatorReportData(string operatorCode, string month) => Query(Fill("/v1" + OperatorReportRoute, operatorCode), ("month", month));

    /// <summary>How washes were kept in a window, as comma-separated values.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <param name="from">Begin of the window.</param>
    /// <param name="to">End of the window.</param>
    /// <param name="by">What a row stands for.</param>
    /// <returns>The address.</returns>
    public static string Compliance(string operatorCode, DateTimeOffset from, DateTimeOffset to, string by) => Query(
        "/v1/cleaning/compliance",
        ("operator", operatorCode), ("by", by), ("from", Instant(from)), ("to", Instant(to)), ("format", "csv"));

    /// <summary>What came back after repairs of an operator.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <returns>The address.</returns>
    public static string OperatorRepeats(string operatorCode) => Failures(new FailureChoice { Operator = operatorCode }, "repeats");

    private static string Instant(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture);
}
