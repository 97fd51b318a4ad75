namespace Washwear.Dashboard.Planning;

/// <summary>What the page on when parts are best replaced shows.</summary>
/// <param name="Replacements">By model, position and part number.</param>
/// <param name="Chosen">The row whose cost curve is shown; null: none has one.</param>
/// <param name="Companions">What to swap together.</param>
/// <param name="Filter">Which parts.</param>
public sealed record PlanPartsPageReport(ReplacementsReport Replacements, ReplacementRow? Chosen, CompanionsReport Companions, PlanFilter Filter);

/// <summary>What the page on stock shows.</summary>
/// <param name="Stock">By stock point, what is to be ordered first.</param>
/// <param name="Filter">Which parts.</param>
public sealed record PlanStockPageReport(StockReport Stock, PlanFilter Filter);

/// <summary>What the page on failures to be expected shows.</summary>
/// <param name="Forecast">The forecast as the reader chose it.</param>
/// <param name="ByMonth">The same by month, for the chart.</param>
/// <param name="Calibration">How good kept forecasts were.</param>
/// <param name="Filter">Which parts.</param>
public sealed record PlanForecastPageReport(
    FailureForecastReport Forecast, FailureForecastReport ByMonth, CalibrationReport Calibration, PlanFilter Filter);
