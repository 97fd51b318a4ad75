using Washwear.Api.PartLife;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>What answers of planning rest on.</summary>
internal static class PlanBasis
{
    /// <summary>The basis of an answer about some parts.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="asked">The parts.</param>
    /// <param name="method">The method.</param>
    /// <param name="doubts">Further doubts.</param>
    public static Basis Of(PlanNow plan, IReadOnlyCollection<PlanPart> asked, PlanMethod method, params IEnumerable<PlanDoubt> doubts)
    {
        PlanModel[] models = [.. asked.Select(part => part.Model).Distinct()];
        var excluded = plan.Book.Excluded.ToDictionary(pair => PlanSentences.Gap(new PlanGap(pair.Key)), pair => pair.Value);
        foreach (IGrouping<PlanGap, PlanPart> group in asked.Where(part => part.NoChance is not null).GroupBy(part => part.NoChance!))
        {
            string why = PlanSentences.Gap(group.Key);
            excluded[why] = excluded.GetValueOrDefault(why) + group.Count();
        }

        string[] clocks = [.. models.Select(model => FleetLives.Name(model.Clock)).Distinct()];
        return new Basis(
            plan.Book.AsOf, null, null, PlanSentences.Method(method), clocks.Length == 1 ? clocks[0] : clocks.Length == 0 ? null : PlanSentences.SeveralClocks,
            asked.Count(part => part.NoChance is null), models.Sum(model => model.Lives.Failures), excluded, [.. Doubts(plan, models), .. WithoutCosts(asked), .. doubts.Select(PlanSentences.Doubt)]);
    }

    /// <summary>Parts that have a life model, and of which nobody can say when to replace them because a cost is not told.</summary>
    /// <param name="asked">The parts.</param>
    public static IEnumerable<PlanPart> Costless(IEnumerable<PlanPart> asked) => asked.Where(part => part.NoChance is null && part.Costs.Missing is not null);

    private static IEnumerable<string> WithoutCosts(IEnumerable<PlanPart> asked) =>
        Costless(asked).GroupBy(part => part.Costs.Missing!).Select(group => PlanSentences.NoCosts(group.Count(), group.Key));

    private static IEnumerable<string> Doubts(PlanNow plan, IEnumerable<PlanModel> models)
    {
        if (plan.Book.Plan.Terms.LockoutHourCost == 0)
        {
            yield return PlanSentences.Doubt(PlanDoubt.NoHourPrice);
        }

        foreach (PlanModel model in models.Where(model => model.WhyNone is not null))
        {
            yield return PlanSentences.NoModel(model.Position, model.WhyNone!);
        }
    }
}
