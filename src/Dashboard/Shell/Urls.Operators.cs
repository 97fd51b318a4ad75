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

    /// <summary>What came back after repairs of an operator.</summary>
    /// <param name="operatorCode">Code of the operator.</param>
    /// <returns>The address.</returns>
    public static string OperatorRepeats(string operatorCode) => Failures(new FailureChoice { Operator = operatorCode }, "repeats");
}
