using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Assembles the list of fitted parts with what is ahead of them.</summary>
/// <param name="plans">The plan.</param>
internal sealed class PartReports(FleetPlan plans)
{
    private const double SoonDays = 30;
    private const double LaterDays = 90;
    private const double HalfYearDays = 180;
    private const double WeekDays = 7;

    /// <summary>The parts of a page.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlannedPartsReport> AssembleAsync(PlanFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        PlanPart[] asked = [.. plan.Book.Asked(filter)];
        PageOf<PlanPart> taken = Paging.TakeSorted(asked, part => part.Key, page);
        return new PlannedPartsReport(
            PlanBasis.Of(plan, asked, PlanMethod.Parts),
            PlanSentences.Parts(
                asked.Length, asked.Sum(part => part.Chance(LaterDays) ?? 0), asked.Count(part => IsDue(plan.Book, part)),
                asked.Count(part => part.NoChance is not null)),
            [.. taken.Items.Select(part => Row(plan, part))],
            taken.Next);
    }

    /// <summary>The row of a part.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="part">The part.</param>
    public static PlannedPartRow Row(PlanNow plan, PlanPart part)
    {
        SiteResource site = part.Unit.Site.Resource;
        PlanAdvice advice = plan.Book.Advice(part);
        var row = new PlannedPartRow(
            part.Unit.Resource.Unit, site.Site, site.Name, site.Operator, site.StockPoint, part.Position.Position, part.Position.Name,
            part.Life.PartNumber, part.PartNumber, part.Life.FittedAt, FleetLives.Name(part.Model.Clock), part.Age, part.PerDay,
            Chance(part, SoonDays), Chance(part, LaterDays), Chance(part, HalfYearDays),
            part.NotPlanned is null ? advice.Verdict : PlanVerdict.Unknown,
            plan.Book.DayAt(part, advice.Age), ExtraCostPerWeek(part, advice), Decided(plan, part), string.Empty,
            part.NotPlanned is { } gap ? PlanSentences.Gap(gap) : null);
        return row with { Sentence = PlanSentences.Part(row, plan.Book.Today(part.Unit)) };
    }

    private static PlanDecisionRow? Decided(PlanNow plan, PlanPart part) =>
        plan.Decisions.Of(part) is { } decision ? DecisionsInForce.Worded(decision) : null;

    private static Estimate? Chance(PlanPart part, double days) => part.Fitted is { } fit
        ? WeibullBounds.FurtherFailure(fit, part.Age!.Value, days * part.PerDay!.Value, method: BoundsMethod.ObservedInformation)
        : null;

    private static bool IsDue(PlanBook book, PlanPart part) => part.NotPlanned is null && book.Advice(part).Age <= part.Age;

    // A week of waiting risks the dearer failure, and saves a week of what parts cost in the long run (renewal-reward).
    private static double? ExtraCostPerWeek(PlanPart part, PlanAdvice advice) => part.NotPlanned is null && advice.Age <= part.Age
        ? Math.Max(0, (part.Chance(WeekDays)!.Value * (part.Costs.Failure!.Value - part.Costs.Planned!.Value)) - (advice.CostRate!.Value * part.PerDay!.Value * WeekDays))
        : null;
}
