using Washwear.Api.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>What answers of planning rest on.</summary>
internal static class PlanBasis
{
    private const string SeveralClocks = "each position on its own";

    /// <summary>The basis of an answer about some parts.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="asked">The parts.</param>
    /// <param name="method">The method.</param>
    /// <param name="doubts">Further doubts.</param>
    public static Basis Of(PlanNow plan, IReadOnlyCollection<PlanPart> asked, string method, params IEnumerable<string> doubts)
    {
        PlanModel[] models = [.. asked.Select(part => part.Model).Distinct()];
        var excluded = new Dictionary<string, int>(plan.Book.Excluded);
        foreach (IGrouping<string, PlanPart> group in asked.Where(part => part.NoChance is not null).GroupBy(part => part.NoChance!))
        {
            excluded[group.Key] = excluded.GetValueOrDefault(group.Key) + group.Count();
        }

        string[] clocks = [.. models.Select(model => FleetLives.Name(model.Clock)).Distinct()];
        return new Basis(
            plan.Book.AsOf, null, null, method, clocks.Length == 1 ? clocks[0] : clocks.Length == 0 ? null : SeveralClocks,
            asked.Count(part => part.NoChance is null), models.Sum(model => model.Lives.Failures), excluded, [.. Doubts(plan, models), .. doubts]);
    }

    private static IEnumerable<string> Doubts(PlanNow plan, IEnumerable<PlanModel> models)
    {
        if (plan.Book.Plan.Terms.LockoutHourCost == 0)
        {
            yield return "An hour locked out has no price in the plan terms, so what a lockout costs is left out of all money.";
        }

        foreach (PlanModel model in models.Where(model => model.WhyNone is not null))
        {
            yield return $"No life model for {model.Position}, so nothing is planned there: {model.WhyNone}.";
        }
    }
}
