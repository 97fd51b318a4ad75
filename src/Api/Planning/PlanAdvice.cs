using Washwear.Analytics.Planning;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>When the parts of one life model and one pair of costs are best replaced, seen by themselves; ages on the model's clock.</summary>
/// <param name="Verdict">What is best.</param>
/// <param name="Age">The age at which they are replaced; null: run to failure, or unknown.</param>
/// <param name="CostRate">Cost a unit of the clock under the verdict; null: unknown.</param>
/// <param name="Costs">The costs; null: unknown.</param>
/// <param name="Found">What Analytics found; null: unknown.</param>
internal sealed record PlanAdvice(PlanVerdict Verdict, double? Age, double? CostRate, ReplacementCosts? Costs, ReplacementAdvice? Found)
{
    /// <summary>Nothing can be said.</summary>
    public static PlanAdvice None { get; } = new(PlanVerdict.Unknown, null, null, null, null);

    /// <summary>The advice for a life model and costs.</summary>
    /// <param name="life">The life model.</param>
    /// <param name="costs">The costs.</param>
    /// <param name="toleranceShare">How much dearer still counts as about as cheap.</param>
    public static PlanAdvice Of(LifeUncertainty life, ReplacementCosts costs, double toleranceShare)
    {
        ReplacementAdvice found = ReplacementAdvisor.Advise(life, costs, new ReplacementOptions { FlatTolerance = toleranceShare });
        ReplacementPolicy policy = found.Policy;
        return policy is { Verdict: ReplacementVerdict.ReplaceAtAge, Age: { } age }
            ? new PlanAdvice(PlanVerdict.ReplaceAtAge, age, policy.CostRate, costs, found)
            : new PlanAdvice(PlanVerdict.RunToFailure, null, policy.RunToFailureCostRate, costs, found);
    }

    /// <summary>The same where somebody wants another age than the cheapest.</summary>
    /// <param name="life">The life model.</param>
    /// <param name="age">The age; infinite: run to failure.</param>
    public PlanAdvice Forced(WeibullLife life, double age) => Costs is null ? this
        : double.IsFinite(age) ? this with { Verdict = PlanVerdict.ReplaceAtAge, Age = age, CostRate = AgeReplacement.CostRate(life, Costs, age) }
        : this with { Verdict = PlanVerdict.RunToFailure, Age = null, CostRate = Found!.Policy.RunToFailureCostRate };
}
