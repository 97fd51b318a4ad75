using System.Globalization;
using Washwear.Analytics.Planning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Assembles forecasts of failures.</summary>
/// <param name="plans">The plan.</param>
internal sealed class ForecastReports(FleetPlan plans)
{
    /// <summary>Chance that the number of failures lies in a prediction interval.</summary>
    public const double Level = 0.9;

    /// <summary>The forecast.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="days">Days ahead.</param>
    /// <param name="by">By what it is split.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<FailureForecastReport> AssembleAsync(
        PlanFilter filter, int days, ForecastBy by, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        PlanPart[] asked = [.. plan.Book.Asked(filter)];
        ForecastRow[] rows = plan.Kept((nameof(ForecastReports), filter, days, by), () => Rows(plan, asked, days, by));
        PageOf<(ForecastRow Row, string Key)> taken = Paging.Take(
            rows.Select((row, i) => (row, i.ToString("D8", CultureInfo.InvariantCulture))), one => one.Item2, page);
        ForecastRow total = plan.Kept((nameof(ForecastReports), filter, days), () => Row("all", ForecastSentences.AllParts, asked, days));
        return new FailureForecastReport(
            PlanBasis.Of(plan, asked, PlanMethod.Forecast, by == ForecastBy.Month ? [PlanDoubt.SingleMonths] : []),
            ForecastSentences.Finding(total, days, Level), days, by, Level, total, [.. taken.Items.Select(one => one.Row)], taken.Next);
    }

    private static ForecastRow[] Rows(PlanNow plan, PlanPart[] asked, int days, ForecastBy by) => by == ForecastBy.Month
        ? [.. Months(asked, plan.Book.AsOf, days)]
        : [.. Groups(plan.Book.Registry, asked, days, by).OrderByDescending(row => row.Expected).ThenBy(row => Codes.Key(row.Key), StringComparer.Ordinal)];

    /// <summary>How many of some parts fail within a time, with the uncertainty of their life models.</summary>
    /// <param name="parts">Parts whose chance can be told; others are passed over.</param>
    /// <param name="days">Days ahead.</param>
    public static Demand Failures(IEnumerable<PlanPart> parts, double days) => DemandDistribution.Sum(
    [
        .. parts.Where(part => part.NoChance is null).GroupBy(part => part.Model).Select(group => FleetDemand.Estimated(
            group.Key.Life!, [.. group.Select(part => new AgeAndWindow(part.Age!.Value, days * part.PerDay!.Value))])),
    ]);

    private static ParallelQuery<ForecastRow> Groups(RegistrySnapshot registry, PlanPart[] asked, int days, ForecastBy by) => asked
        .GroupBy(part => KeyOf(part, by), StringComparer.OrdinalIgnoreCase).AsParallel()
        .Select(group => Row(group.Key, NameOf(registry, group.First(), group.Key, by), [.. group], days));

    private static ForecastRow Row(string key, string name, PlanPart[] parts, int days)
    {
        int known = parts.Count(part => part.NoChance is null);
        return Row(key, name, known, parts.Length - known, Failures(parts, days));
    }

    private static ForecastRow Row(string key, string name, int known, int without, Demand failures) => new(
        key, name, known, without, failures.Mean, failures.Quantile((1 - Level) / 2), failures.Quantile((1 + Level) / 2));

    private static IEnumerable<ForecastRow> Months(PlanPart[] asked, DateTimeOffset asOf, int days)
    {
        PlanPart[] known = [.. asked.Where(part => part.NoChance is null)];
        DateTimeOffset end = asOf.AddDays(days);
        double from = 0;
        for (DateTimeOffset month = new(asOf.UtcDateTime.Year, asOf.UtcDateTime.Month, 1, 0, 0, 0, TimeSpan.Zero); month < end; month = month.AddMonths(1))
        {
            double to = Math.Min(days, (month.AddMonths(1) - asOf).TotalDays);
            (double before, double upTo) = (from, to);
            Demand failures = DemandDistribution.PoissonBinomial([.. known.Select(part => part.Chance(upTo)!.Value - part.Chance(before)!.Value)]);
            yield return Row(
                month.ToString("yyyy-MM", CultureInfo.InvariantCulture), Text.MonthYear(DateOnly.FromDateTime(month.UtcDateTime)), known.Length,
                asked.Length - known.Length, failures);
            from = to;
        }
    }

    private static string KeyOf(PlanPart part, ForecastBy by) => by switch
    {
        ForecastBy.PartNumber => part.PartNumber ?? Text.NotKnown,
        ForecastBy.Site => part.Unit.Site.Resource.Site,
        ForecastBy.StockPoint => part.Unit.Site.Resource.StockPoint ?? "none",
        _ => throw new ArgumentOutOfRangeException(nameof(by), by, "Not a group of parts."),
    };

    private static string NameOf(RegistrySnapshot registry, PlanPart part, string key, ForecastBy by) => by switch
    {
        ForecastBy.PartNumber => registry.Plan.Parts.GetValueOrDefault(key)?.Name ?? part.Position.Name,
        ForecastBy.Site => part.Unit.Site.Resource.Name,
        _ => registry.Plan.StockPoints.GetValueOrDefault(key)?.Name ?? (part.Unit.Site.Resource.StockPoint is null ? StockWords.NoStockPoint : key),
    };
}
