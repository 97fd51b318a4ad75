using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What is to be ordered, in words.</summary>
public static class StockWords
{
    /// <summary>How a stock point is called.</summary>
    /// <param name="row">A row of it.</param>
    public static string Place(StockRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.StockPointName ?? row.StockPoint ?? "Sites that name no stock point";
    }

    /// <summary>What is to be ordered, and what that costs.</summary>
    /// <param name="rows">Rows that are short.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static string Order(IReadOnlyCollection<StockRow> rows, string? currency)
    {
        ArgumentNullException.ThrowIfNull(rows);
        long pieces = rows.Sum(row => (long)(row.OrderNow ?? 0));
        double?[] costs = [.. rows.Select(row => row.OrderCost)];
        double known = costs.Sum(cost => cost is { } money && double.IsFinite(money) ? money : 0);
        string cost = known <= 0 ? "no price is told"
            : "for about " + PlanWords.Money(known, currency) + (currency is null ? " in your own currency" : null)
                + (costs.Any(one => one is null) ? ", those without a price left out" : null);
        return $"{Text.Tick(pieces)} {(pieces == 1 ? "part" : "parts")} of "
            + $"{Text.Counted(rows.Count, "part number")}, {cost}.";
    }

    /// <summary>What happens if it is not ordered.</summary>
    /// <param name="row">A row that is short.</param>
    public static string Risk(StockRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        string there = row.OnHand is { } onHand ? $"{Text.Counted(onHand, "lies", "lie")} there, {Text.Counted(row.SmallestStock ?? 0, "is wanted", "are wanted")}" : "What lies there is not told";
        if (row.OnHand < row.Planned)
        {
            return there + $"; the {Text.Counted(row.Planned, "planned replacement")} alone {(row.Planned == 1 ? "needs" : "need")} more.";
        }

        return there + (row.ChanceOnHandLasts is { } chance && double.IsFinite(chance)
            ? $"; without an order the chance that they last {Text.Tick(Math.Round(row.LeadTimeDays ?? 0))} days, the time until more can be here, is {Text.Share(chance)}." : ".");
    }
}
