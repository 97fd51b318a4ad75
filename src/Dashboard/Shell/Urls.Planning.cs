using System.Globalization;
using Washwear.Dashboard.Planning;

namespace Washwear.Dashboard.Shell;

/// <content>Links of what lies behind the plan: when parts are best replaced, what to stock, what is to be expected.</content>
public static partial class Urls
{
    /// <summary>Route of the page on when parts are best replaced.</summary>
    public const string PlanPartsRoute = "/planning/parts";

    /// <summary>Route of the page on stock.</summary>
    public const string PlanStockRoute = "/planning/stock";

    /// <summary>Route of the page on failures to be expected.</summary>
    public const string PlanForecastRoute = "/planning/forecast";

    /// <summary>Route of the chart of cost against age; the file's ending is svg or png.</summary>
    public const string CostChartRoute = "/charts/planning/cost.{format}";

    /// <summary>Route of the chart of failures to be expected; the file's ending is svg or png.</summary>
    public const string ForecastChartRoute = "/charts/planning/forecast.{format}";

    /// <summary>Kept forecasts and what came of them, as comma-separated values.</summary>
    public static string CalibrationCsv => Query("/v1/plan/calibration", ("format", "csv"));

    /// <summary>When parts are best replaced, and what to swap together.</summary>
    /// <param name="filter">Which parts; null: all.</param>
    /// <param name="model">Code of the model whose cost curve is shown; null: the first row's.</param>
    /// <param name="partNumber">Part number whose cost curve is shown.</param>
    /// <returns>The address.</returns>
    public static string PlanParts(PlanFilter? filter = null, string? model = null, string? partNumber = null) =>
        Query(PlanPartsRoute, [.. PlanPairs(filter), ("model", model), ("part_number", partNumber)]);

    /// <summary>What to swap together, all of it.</summary>
    /// <param name="filter">Which parts; null: all.</param>
    /// <returns>The address.</returns>
    public static string PlanTogether(PlanFilter? filter = null) => Query(PlanPartsRoute, [.. PlanPairs(filter), ("list", "together")]);

    /// <summary>The chart of cost against age of one row.</summary>
    /// <param name="row">The row.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string CostChart(ReplacementRow row, string format)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Query(Fill(CostChartRoute, format), ("position", row.Position), ("model", row.Model), ("part_number", row.PartNumber));
    }

    /// <summary>When parts are best replaced, as comma-separated values.</summary>
    /// <param name="filter">Which parts.</param>
    /// <returns>The address.</returns>
    public static string ReplacementsCsv(PlanFilter? filter) => Query("/v1/plan/replacements", [.. PlanPairs(filter), ("format", "csv")]);

    /// <summary>What to swap together, as comma-separated values.</summary>
    /// <param name="filter">Which parts.</param>
    /// <returns>The address.</returns>
    public static string CompanionsCsv(PlanFilter? filter) => Query("/v1/plan/companions", [.. PlanPairs(filter), ("format", "csv")]);

    /// <summary>What to stock.</summary>
    /// <param name="filter">Which parts; null: all.</param>
    /// <returns>The address.</returns>
    public static string PlanStock(PlanFilter? filter = null) => Query(PlanStockRoute, [.. PlanPairs(filter)]);

    /// <summary>What to stock, as comma-separated values.</summary>
    /// <param name="filter">Which parts.</param>
    /// <returns>The address.</returns>
    public static string StockCsv(PlanFilter? filter) => Query("/v1/plan/stock", [.. PlanPairs(filter), ("format", "csv")]);

    /// <summary>Failures to be expected.</summary>
    /// <param name="filter">Which parts; null: all.</param>
    /// <param name="days">Days ahead; null: as the page opens.</param>
    /// <param name="by">By what they are split; null: as the page opens.</param>
    /// <returns>The address.</returns>
    public static string PlanForecast(PlanFilter? filter = null, int? days = null, ForecastBy? by = null) =>
        Query(PlanForecastRoute, [.. PlanPairs(filter), .. ForecastPairs(days, by)]);

    /// <summary>Failures to be expected, as comma-separated values.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="days">Days ahead.</param>
    /// <param name="by">By what they are split.</param>
    /// <returns>The address.</returns>
    public static string ForecastCsv(PlanFilter? filter, int days, ForecastBy by) =>
        Query("/v1/plan/failures", [.. PlanPairs(filter), .. ForecastPairs(days, by), ("format", "csv")]);

    /// <summary>The chart of failures to be expected.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="days">Days ahead.</param>
    /// <param name="by">By what they are split.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string ForecastChart(PlanFilter? filter, int days, ForecastBy by, string format) =>
        Query(Fill(ForecastChartRoute, format), [.. PlanPairs(filter), .. ForecastPairs(days, by)]);

    /// <summary>Every fitted part and what is ahead of it, as comma-separated values.</summary>
    /// <param name="filter">Which parts.</param>
    /// <returns>The address.</returns>
    public static string PlannedPartsCsv(PlanFilter? filter) => Query("/v1/plan/failures/parts", [.. PlanPairs(filter), ("format", "csv")]);

    private static (string Name, string? Value)[] ForecastPairs(int? days, ForecastBy? by) =>
        [("days", days?.ToString(CultureInfo.InvariantCulture)), ("by", by is { } word ? Snake(word.ToString()) : null)];
}
