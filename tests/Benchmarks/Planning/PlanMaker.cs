using Washwear.Analytics.PartLife;
using Washwear.Analytics.Planning;

namespace Washwear.Benchmarks.Planning;

/// <summary>How the rules are made from the records.</summary>
internal enum PlanBasis
{
    /// <summary>As Washwear advises.</summary>
    Advice,

    /// <summary>Advice on visits of a part's own, but nothing is swapped past an age because somebody is there anyway.</summary>
    WithoutCompanions,

    /// <summary>The best age at the estimate, however badly the life is known.</summary>
    EstimateAlone,

    /// <summary>Advice on a planned swap priced with half a visit, as visits are shared.</summary>
    HalfVisit,

    /// <summary>Advice by the true life: what no records could better.</summary>
    TrueLife,
}

/// <summary>A position's rule and the life it was made from.</summary>
internal readonly record struct MadeRule(SwapRule Rule, WeibullLife? Life);

/// <summary>Makes a fleet's rules from what its records show.</summary>
internal static class PlanMaker
{
    /// <summary>One rule a position.</summary>
    public static MadeRule[] Make(PlanScenario scenario, FollowedFleet fleet, PlanBasis basis) =>
        [.. Enumerable.Range(0, scenario.Lives.Count).Select(position => Make(scenario, fleet, basis, position))];

    private static MadeRule Make(PlanScenario scenario, FollowedFleet fleet, PlanBasis basis, int position)
    {
        LifeUncertainty? known = basis == PlanBasis.TrueLife ? Certain(scenario.Lives[position])
            : WeibullFit.Fit(fleet.Records(position)) is not FittedLife fit ? null
            : basis == PlanBasis.EstimateAlone ? Certain(new WeibullLife(fit.Curve.Shape, fit.Curve.Scale))
            : Known(fit);
        if (known is null)
        {
            return new MadeRule(SwapRule.Never, null);
        }

        ReplacementCosts costs = basis == PlanBasis.HalfVisit
            ? new(PlanScenario.Part + (PlanScenario.Visit / 2), scenario.Costs.Failure)
            : scenario.Costs;
        ReplacementPolicy policy = ReplacementAdvisor.Advise(known, costs).Policy;
        double age = policy is { Verdict: ReplacementVerdict.ReplaceAtAge, Age: { } best } ? best : double.PositiveInfinity;

        // As for visits of its own: what is not shown to wear is left alone.
        bool wears = known.ShapeLower > 1 && basis != PlanBasis.WithoutCompanions;
        double? limit = wears ? OpportunityReplacement.Find(known.Estimate, scenario.OpportunityCosts, fleet.OtherOpenings(position)).Limit : null;
        return new MadeRule(new SwapRule(age, limit ?? double.PositiveInfinity), known.Estimate);
    }

    private static LifeUncertainty Certain(WeibullLife life) => new(life, 0, 0, 0, life.Shape);

    private static LifeUncertainty Known(FittedLife fit)
    {
        (double shape, double scale) = (Math.Sqrt(fit.VarianceOfLogShape), Math.Sqrt(fit.VarianceOfLogScale));
        double correlation = Math.Clamp(fit.CovarianceOfLogs / (shape * scale), -1, 1);
        return new LifeUncertainty(
            new WeibullLife(fit.Curve.Shape, fit.Curve.Scale), shape, scale, correlation, WeibullBounds.Shape(fit).Lower ?? 0);
    }
}
