using System.Globalization;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Assembles the reports on fitted parts and on decisions.</summary>
/// <param name="plans">The plan.</param>
internal sealed class PlanReports(FleetPlan plans)
{
    /// <summary>Decisions, newest first.</summary>
    /// <param name="filter">Whose.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlanDecisionsReport> AssembleDecisionsAsync(
        PlanFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        PlanDecisionRow[] rows = [.. plan.Decisions.Rows.Where(row => Matches(plan.Book.Registry, row, filter)).Select(DecisionsInForce.Worded)];
        PageOf<PlanDecisionRow> taken = Paging.Take(rows, DecisionKey, page);
        int inForce = rows.Count(row => row.InForce);
        return new PlanDecisionsReport(
            new Basis(asOf, null, null, PlanSentences.Method(PlanMethod.Decisions), null, rows.Length, null,
                new Dictionary<string, int>(), []),
            DecisionSentences.Finding(rows.Length, inForce),
            inForce,
            taken.Items,
            taken.Next);
    }

    /// <summary>One decision.</summary>
    /// <param name="id">Its number.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlanDecisionRow> AssembleDecisionAsync(long id, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        DecisionsInForce.Worded((await plans.CurrentAsync(asOf, cancellationToken)).Decisions.Rows.First(row => row.Id == id));

    // Numbers turned round, so that text sorts the newest first.
    private static string DecisionKey(PlanDecisionRow row) => (long.MaxValue - row.Id).ToString("D19", CultureInfo.InvariantCulture);

    private static bool Matches(RegistrySnapshot registry, PlanDecisionRow row, PlanFilter filter) =>
        Names(filter.Operator, row.Operator) && Names(filter.Site, row.Site) && Names(filter.Unit, row.Unit) && Names(filter.Position, row.Position)
        && Names(filter.StockPoint, registry.Sites.GetValueOrDefault(row.Site)?.Resource.StockPoint);

    private static bool Names(string? asked, string? actual) => asked is null || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);
}
