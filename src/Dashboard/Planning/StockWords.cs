using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What is to be ordered, in words.</summary>
public static class StockWords
{
    /// <summary>How sites without a stock point are called together.</summary>
    public static string NoStockPoint => PlanStockTexts.Now.NoStockPoint;

    /// <summary>How a stock point is called.</summary>
    /// <param name="row">A row of it.</param>
    public static string Place(StockRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.StockPointName ?? row.StockPoint ?? NoStockPoint;
    }

    /// <summary>What is to be ordered, and what that costs.</summary>
    /// <param name="rows">Rows that are short.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static string Order(IReadOnlyCollection<StockRow> rows, string? currency)
    {
        ArgumentNullException.ThrowIfNull(rows);
        StockOrderTexts texts = PlanStockTexts.Now.Order;
        long pieces = rows.Sum(row => (long)(row.OrderNow ?? 0));
        double?[] costs = [.. rows.Select(row => row.OrderCost)];
        double known = costs.Sum(cost => cost is { } money && double.IsFinite(money) ? money : 0);
        bool isAll = costs.All(one => one is not null);
        string about = currency is null ? (isAll ? texts.AboutOwn : texts.AboutOwnSome) : isAll ? texts.About : texts.AboutSome;
        return Fill.In(
            texts.Sentence,
            ("parts", texts.Parts.For((int)Math.Clamp(pieces, int.MinValue, int.MaxValue))),
            ("numbers", texts.Numbers.For(rows.Count)),
            ("cost", known <= 0 ? texts.NoPrice : Fill.In(about, ("sum", PlanWords.Money(known, currency)))));
    }

    /// <summary>What happens if it is not ordered.</summary>
    /// <param name="row">A row that is short.</param>
    public static string Risk(StockRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        StockRiskTexts texts = PlanStockTexts.Now.Risk;
        string there = row.OnHand is { } onHand ? texts.There.For(onHand, ("wanted", texts.Wanted.For(row.SmallestStock ?? 0))) : texts.NotTold;
        string? risk = row.OnHand < row.Planned ? texts.Planned.For(row.Planned)
            : row.ChanceOnHandLasts is { } chance && double.IsFinite(chance)
                ? Fill.In(texts.Chance, ("days", Text.Tick(Math.Round(row.LeadTimeDays ?? 0))), ("share", Text.Share(chance)))
            : null;
        return (risk is null ? there : there + "; " + risk) + ".";
    }
}
