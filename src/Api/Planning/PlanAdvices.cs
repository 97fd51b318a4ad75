using System.Collections.Concurrent;
using Washwear.Analytics.Planning;

namespace Washwear.Api.Planning;

/// <summary>Advice for each life model and pair of costs, worked out once. Safe for concurrent use.</summary>
/// <param name="toleranceShare">How much dearer still counts as about as cheap.</param>
internal sealed class PlanAdvices(double toleranceShare)
{
    private readonly ConcurrentDictionary<(PlanModel Model, double Planned, double Failure), PlanAdvice> _known = new();

    /// <summary>Advice for a part by itself.</summary>
    /// <param name="part">The part.</param>
    public PlanAdvice Of(PlanPart part)
    {
        if (part.Model.Life is not { } life || part.Costs.Missing is not null)
        {
            return PlanAdvice.None;
        }

        PlanAdvice advice = _known.GetOrAdd(
            (part.Model, part.Costs.Planned!.Value, part.Costs.Failure!.Value),
            key => PlanAdvice.Of(life, new ReplacementCosts(key.Planned, key.Failure), toleranceShare));
        return part.ForcedAge is { } age ? advice.Forced(life.Estimate, age) : advice;
    }

    /// <summary>Works out the advice of all parts at once, the cores sharing the pairs of model and costs.</summary>
    /// <param name="parts">The parts.</param>
    public void Prepare(IEnumerable<PlanPart> parts) =>
        parts.DistinctBy(part => (part.Model, part.Costs.Planned, part.Costs.Failure)).AsParallel().ForAll(part => Of(part));
}
