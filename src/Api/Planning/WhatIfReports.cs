using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Works out a plan under other costs, lead times or intervals beside the plan as things are. Saves nothing.</summary>
/// <param name="plans">The plan.</param>
internal sealed class WhatIfReports(FleetPlan plans)
{
    private const double DaysPerWeek = 7;
    private const double HoursPerDay = 24;

    /// <summary>Both plans side by side.</summary>
    /// <param name="asked">What to try.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<(WhatIfReport? Report, IReadOnlyList<FieldProblem> Problems)> AssembleAsync(
        WhatIfResource asked, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        if (WhatIfRules.Check(asked, plan.Book.Registry) is { Count: > 0 } problems)
        {
            return (null, problems);
        }

        int weeks = asked.HorizonWeeks ?? plan.Book.Plan.Terms.HorizonWeeks;
        PlanNow now = weeks == plan.Book.Plan.Terms.HorizonWeeks ? plan
            : new PlanNow(plan.Book.With(Resources(plan.Book.Plan, new WhatIfResource(HorizonWeeks: weeks)), part => part), plan.Decisions);
        PlanResources other = Resources(plan.Book.Plan, asked);
        var then = new PlanNow(plan.Book.With(other, part => Changed(plan.Book, other, asked, part)), plan.Decisions);
        // What an hour is worth is a yardstick, not a thing that a plan changes: measured by two of them, no two plans compare.
        PlanTotals totalsNow = Totals(now, other.Terms.LockoutHourCost);
        PlanTotals totalsThen = Totals(then, other.Terms.LockoutHourCost);
        bool isNewPrice = other.Terms.LockoutHourCost != plan.Book.Plan.Terms.LockoutHourCost;
        ChangedReplacement[] changed = [.. Changes(now.Book, then.Book)];
        return (
            new WhatIfReport(
                PlanBasis.Of(then, then.Book.Parts.ToArray(), PlanMethod.WhatIf, PlanDoubt.NothingSaved), WhatIfSentences.Finding(totalsNow, totalsThen, changed.Length, isNewPrice),
                other.Terms.Currency, weeks, totalsNow, totalsThen, changed),
            []);
    }

    private static PlanResources Resources(PlanResources plan, WhatIfResource asked)
    {
        PlanTermsResource terms = plan.Terms with
        {
            LockoutHourCost = asked.LockoutHourCost ?? plan.Terms.LockoutHourCost,
            PlannedVisitCost = asked.PlannedVisitCost ?? plan.Terms.PlannedVisitCost,
            FailureCost = asked.FailureCost ?? plan.Terms.FailureCost,
            ExpectedLockoutHours = asked.ExpectedLockoutHours ?? plan.Terms.ExpectedLockoutHours,
            HorizonWeeks = asked.HorizonWeeks ?? plan.Terms.HorizonWeeks,
        };
        Dictionary<string, WhatIfSupplierResource> suppliers = (asked.Suppliers ?? []).GroupBy(one => Codes.Key(one.Supplier))
            .ToDictionary(group => group.Key, group => group.Last());
        return new PlanResources(
            [.. plan.SupplierList.Select(one => suppliers.TryGetValue(Codes.Key(one.Supplier), out WhatIfSupplierResource? other)
                ? one with { LeadTimeDays = other.LeadTimeDays, LeadTimeDaysLongest = null }
                : one)],
            plan.PartList,
            plan.StockPointList,
            terms);
    }

    private static PlanPart Changed(PlanBook book, PlanResources plan, WhatIfResource asked, PlanPart part)
    {
        WhatIfPositionResource? change = (asked.Positions ?? []).LastOrDefault(one => Same(one.Position, part.Position.Position)
            && (one.Model is null || Same(one.Model, part.Unit.Model.Resource.Model)));
        PositionResource position = part.Position with
        {
            PlannedVisitCost = change?.PlannedVisitCost ?? part.Position.PlannedVisitCost,
            FailureCost = change?.FailureCost ?? part.Position.FailureCost,
        };
        PlanCosts costs = PlanCosts.Of(plan, position, part.PartNumber, book.FleetLockoutHours);
        return part with
        {
            Costs = costs with { PartPrice = change?.PartPrice ?? costs.PartPrice },
            ForcedAge = change switch
            {
                { RunToFailure: true } => double.PositiveInfinity,
                { ReplaceAtDays: { } days } when part.PerDay is { } pace => days * pace,
                _ => null,
            },
        };
    }

    private static PlanTotals Totals(PlanNow plan, double lockoutHourCost)
    {
        VisitPlan visits = plan.Visits;
        double horizon = visits.Weeks * DaysPerWeek;
        (double failures, double money, double unwashed) = (0, 0, 0);
        foreach (PlanPart part in plan.Book.Parts.Where(part => part.NoChance is null))
        {
            double expected = Failures(plan, part, horizon);
            failures += expected;
            money += expected * ((part.Costs with { LockoutHourCost = lockoutHourCost }).Failure ?? 0);
            unwashed += expected * part.Costs.LockoutHours / HoursPerDay;
        }

        double cost = visits.Visits.Sum(visit => visit.Cost);
        int early = plan.Book.Parts.Where(part => part.NotPlanned is null && plan.Book.Advice(part).Verdict == PlanVerdict.ReplaceAtAge)
            .Select(part => (part.Unit.Model.Id, Codes.Key(part.Position.Position))).Distinct().Count();
        return new PlanTotals(
            visits.Visits.Count, visits.Visits.Sum(visit => visit.Jobs.Count), visits.Visits.Sum(visit => visit.Minutes), cost, failures, money, unwashed,
            cost + money, early);
    }

    private static double Failures(PlanNow plan, PlanPart part, double horizon)
    {
        if (plan.DayOf(part) is not { } day)
        {
            return part.Chance(horizon)!.Value;
        }

        double until = Math.Clamp(day.DayNumber - plan.Book.Today(part.Unit).DayNumber, 0, horizon);
        return part.Chance(until)!.Value + part.Fitted!.Curve.FailedBy((horizon - until) * part.PerDay!.Value);
    }

    private static IEnumerable<ChangedReplacement> Changes(PlanBook now, PlanBook then)
    {
        var groups = now.Parts.Zip(then.Parts).GroupBy(pair => (pair.First.Unit.Model.Id, Codes.Key(pair.First.Position.Position)));
        foreach (var group in groups)
        {
            ReplacementRow before = ReplacementReports.Row(now, [.. group.Select(pair => pair.First)]);
            ReplacementRow after = ReplacementReports.Row(then, [.. group.Select(pair => pair.Second)]);
            if (before.Verdict != after.Verdict || before.AgeDays != after.AgeDays)
            {
                yield return new ChangedReplacement(
                    before.Model, before.Position, before.PositionName, before.Verdict, after.Verdict, before.AgeDays, after.AgeDays);
            }
        }
    }

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
