namespace Washwear.Dashboard.Planning;

/// <summary>What the page on when parts are best replaced shows.</summary>
/// <param name="Replacements">By model, position and part number.</param>
/// <param name="Chosen">The row whose cost curve is shown; null: none has one.</param>
/// <param name="Companions">What to swap together.</param>
/// <param name="Filter">Which parts.</param>
/// <param name="List">Which of its lists is shown whole.</param>
public sealed record PlanPartsPageReport(
    ReplacementsReport Replacements, ReplacementRow? Chosen, CompanionsReport Companions, PlanFilter Filter, PlanPartsList List = PlanPartsList.Parts);

/// <summary>A list of the page on when parts are best replaced.</summary>
public enum PlanPartsList
{
    /// <summary>Parts with what is best done with them; of what to swap together only the first pairs.</summary>
    Parts,

    /// <summary>What to swap together, and nothing else.</summary>
    Together,
}

/// <summary>What the page on stock shows.</summary>
/// <param name="Stock">A page of the stocks: by stock point, what is to be ordered first, or as the reader sorts them.</param>
/// <param name="ToOrder">What is to be ordered, by stock point; of very much the first rows.</param>
/// <param name="Filter">Which parts.</param>
public sealed record PlanStockPageReport(StockReport Stock, IReadOnlyList<StockRow> ToOrder, PlanFilter Filter);

/// <summary>What the page on failures to be expected shows.</summary>
/// <param name="Forecast">The forecast as the reader chose it.</param>
/// <param name="ByMonth">The same by month, for the chart.</param>
/// <param name="Calibration">How good kept forecasts were.</param>
/// <param name="Filter">Which parts.</param>
public sealed record PlanForecastPageReport(
    FailureForecastReport Forecast, FailureForecastReport ByMonth, CalibrationReport Calibration, PlanFilter Filter);
