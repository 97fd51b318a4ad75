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
        if (rows.Count == 0)
        {
            return "No fitted part has a part number here, so no stock is reckoned.";
        }

        int unknown = rows.Count(row => row.SmallestStock is null);
        string without = unknown == 0 ? string.Empty : $" Of {Text.Counted(unknown, "part number")} no lead time is told.";
        int pieces = rows.Sum(row => row.OrderNow ?? 0);
        return (toOrder == 0 ? "What lies there lasts over the lead times: nothing is to be ordered now."
            : $"{Text.Counted(toOrder, "part number is", "part numbers are")} short: order {Text.Counted(pieces, "part")} now.") + without;
    }

    /// <summary>What to keep of a part number at a stock point.</summary>
    /// <param name="row">The row; its sentence may still be empty.</param>
    public static string Row(StockRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.SmallestStock is not { } stock)
        {
            return "How many to keep cannot be told: no supplier with a lead time is told for this part number.";
        }

        string keep = $"Keep {stock} for a lead time of {Text.Tick(row.LeadTimeDays ?? 0)} days: about {Text.Number(row.Expected)} will fail"
            + (row.Planned > 0 ? $" and {Text.Counted(row.Planned, "is", "are")} to be replaced in it" : " in it")
            + $", and {stock} last with {Text.Share(row.ChanceItLasts)} chance.";
        string order = row.OnHand is not { } there ? " What lies there is not told."
            : row.OrderNow > 0 ? $" {Text.Counted(there, "lies", "lie")} there: order {row.OrderNow} now."
            : $" {Text.Counted(there, "lies", "lie")} there: enough.";
        return keep + order;
    }
}
