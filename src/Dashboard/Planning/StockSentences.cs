using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on stocks.</summary>
public static class StockSentences
{
    /// <summary>The finding over some rows.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="toOrder">How many are short.</param>
    public static string Finding(IReadOnlyCollection<StockRow> rows, int toOrder)
    {
        ArgumentNullException.ThrowIfNull(rows);
        StockFindingTexts texts = PlanStockTexts.Now.Finding;
        if (rows.Count == 0)
        {
            return texts.None;
        }

        int unknown = rows.Count(row => row.SmallestStock is null);
        string order = toOrder == 0 ? texts.Enough : texts.Short.For(toOrder, ("parts", texts.Parts.For(rows.Sum(row => row.OrderNow ?? 0))));
        return unknown == 0 ? order : order + " " + texts.NoLeadTime.For(unknown);
    }

    /// <summary>What to keep of a part number at a stock point.</summary>
    /// <param name="row">The row; its sentence may still be empty.</param>
    public static string Row(StockRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        StockRowTexts texts = PlanStockTexts.Now.Row;
        if (row.SmallestStock is not { } stock)
        {
            return texts.Cannot;
        }

        (string, string)[] values =
        [
            ("stock", Plain(stock)),
            ("days", Text.Tick(row.LeadTimeDays ?? 0)),
            ("expected", Text.Number(row.Expected)),
            ("share", Text.Share(row.ChanceItLasts)),
        ];
        string keep = row.Planned > 0 ? texts.KeepPlanned.For(row.Planned, values) : Fill.In(texts.Keep, values);
        string order = row.OnHand is not { } there ? texts.NotTold
            : row.OrderNow is > 0 and { } now ? texts.Order.For(there, ("order", Plain(now)))
            : texts.Enough.For(there);
        return keep + " " + order;
    }

    private static string Plain(int number) => number.ToString(CultureInfo.InvariantCulture);
}
