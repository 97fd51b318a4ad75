using Washwear.Analytics.Planning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Assembles what to stock, and what to order now.</summary>
/// <param name="plans">The plan.</param>
internal sealed class StockReports(FleetPlan plans)
{
    /// <summary>Columns that the page sorts by.</summary>
    public static IReadOnlyList<SortColumn<StockRow>> Columns { get; } =
    [
        new("part", row => row.PartNumber), new("stock_point", row => row.StockPointName ?? row.StockPoint), new("order", row => row.OrderNow),
        new("on_hand", row => row.OnHand), new("keep", row => row.SmallestStock),
    ];

    /// <summary>The rows of a page.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<StockReport> AssembleAsync(PlanFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        PlanPart[] asked = [.. plan.Book.Asked(filter)];
        StockRow[] rows = Kept(plan, filter, asked);
        PageOf<StockRow> taken = page.SortBy is null ? Paging.Take(rows, Key, page) : Sorting.Take(rows, Columns, page);
        int toOrder = rows.Count(row => row.OrderNow > 0);
        return new StockReport(
            PlanBasis.Of(plan, asked, PlanMethod.Stock), StockSentences.Finding(rows, toOrder), plan.Book.Plan.Terms.Currency, toOrder, taken.Items, taken.Next);
    }

    /// <summary>What is short, by stock point.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="most">Most rows wanted.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<StockRow>> ShortAsync(PlanFilter filter, int most, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        return [.. Kept(plan, filter, [.. plan.Book.Asked(filter)]).Where(row => row.OrderNow > 0).Take(most)];
    }

    private static StockRow[] Kept(PlanNow plan, PlanFilter filter, PlanPart[] asked) => plan.Kept((nameof(StockReports), filter), () => Rows(plan, asked));

    private static StockRow[] Rows(PlanNow plan, PlanPart[] asked) =>
    [
        .. asked.Where(part => part.PartNumber is not null)
            .GroupBy(part => (Codes.Key(part.Unit.Site.Resource.StockPoint ?? string.Empty), Codes.Key(part.PartNumber!)))
            .AsParallel().Select(group => Row(plan, [.. group])).AsSequential().OrderBy(Key, StringComparer.Ordinal),
    ];

    private static StockRow Row(PlanNow plan, PlanPart[] parts)
    {
        PlanResources registry = plan.Book.Plan;
        string number = parts[0].PartNumber!;
        string? place = parts[0].Unit.Site.Resource.StockPoint;
        StockPointResource? point = place is null ? null : registry.StockPoints.GetValueOrDefault(place);
        PartResource? listed = registry.Parts.GetValueOrDefault(number);
        SupplierResource? supplier = listed?.Supplier is { } code ? registry.Suppliers.GetValueOrDefault(code) : null;
        double? lead = supplier is null ? null : supplier.LeadTimeDaysLongest ?? supplier.LeadTimeDays;
        int? onHand = point?.OnHand is null ? null
            : point.OnHand.FirstOrDefault(line => Codes.Key(line.PartNumber) == Codes.Key(number))?.Quantity ?? 0;
        StockRow row = new(
            place, point?.Name, number, listed?.Name ?? parts[0].Position.Name, parts.Length, parts.Count(part => part.NoChance is not null),
            listed?.Supplier, lead, null, 0, point?.ServiceLevel ?? registry.Terms.ServiceLevel, null, null, onHand, null, null, null, string.Empty);
        row = lead is { } days ? Reckoned(plan, parts, row, days) : row;
        return row with { Sentence = StockSentences.Row(row) };
    }

    // A part that is to be replaced in that time needs one in any case, so it is counted there and not among the failures.
    private static StockRow Reckoned(PlanNow plan, PlanPart[] parts, StockRow row, double days)
    {
        ILookup<bool, PlanPart> planned = parts.ToLookup(part =>
            plan.DayOf(part) is { } day && day <= plan.Book.Today(part.Unit).AddDays((int)Math.Ceiling(days)));
        int certain = planned[true].Count();
        Demand failures = ForecastReports.Failures(planned[false], days);
        int stock = certain + failures.SmallestStock(row.ServiceLevel);
        int? order = row.OnHand is { } onHand ? Math.Max(0, stock - onHand) : null;
        double? price = parts[0].Costs.PartPrice;
        return row with
        {
            Expected = failures.Mean,
            Planned = certain,
            SmallestStock = stock,
            ChanceItLasts = failures.Service(stock - certain),
            OrderNow = order,
            OrderCost = order * price,
            ChanceOnHandLasts = row.OnHand is { } there ? (there < certain ? 0 : failures.Service(there - certain)) : null,
        };
    }

    // By stock point; within it what is short first.
    private static string Key(StockRow row) => $"{Codes.Key(row.StockPoint ?? "\uffff")} {(row.OrderNow > 0 ? 0 : row.OrderNow is null ? 2 : 1)} {Codes.Key(row.PartNumber)}";
}
