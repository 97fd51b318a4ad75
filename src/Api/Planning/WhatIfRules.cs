using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>What a trial must be like.</summary>
internal static class WhatIfRules
{
    private const double MostHours = 24 * 366;
    private const double MostDays = 36_525;

    /// <summary>What is wrong with a trial; empty: nothing.</summary>
    /// <param name="asked">The trial.</param>
    /// <param name="registry">What it may refer to.</param>
    public static IReadOnlyList<FieldProblem> Check(WhatIfResource asked, RegistrySnapshot registry)
    {
        var problems = new List<FieldProblem>();
        var book = new RuleBook(string.Empty, problems);
        book.Between("lockout_hour_cost", asked.LockoutHourCost, 0, PlanRules.MostMoney);
        book.AboveZero("planned_visit_cost", asked.PlannedVisitCost, PlanRules.MostMoney);
        book.AboveZero("failure_cost", asked.FailureCost, PlanRules.MostMoney);
        book.Between("expected_lockout_hours", asked.ExpectedLockoutHours, 0, MostHours);
        book.Between("horizon_weeks", asked.HorizonWeeks, 4, 104);
        PlanTermsResource terms = registry.Plan.Terms;
        if (asked.PlannedVisitCost is not null || asked.FailureCost is not null)
        {
            PlanRules.CheapEnough(
                asked.PlannedVisitCost is null ? "failure_cost" : "planned_visit_cost", asked.PlannedVisitCost ?? terms.PlannedVisitCost,
                asked.FailureCost ?? terms.FailureCost, book);
        }

        for (int i = 0; i < (asked.Positions?.Count ?? 0); i++)
        {
            CheckPosition(asked.Positions![i], registry, book.At("positions", i));
        }

        CheckSuppliers(asked, registry, book, problems);
        return problems;
    }

    private static void CheckPosition(WhatIfPositionResource one, RegistrySnapshot registry, RuleBook book)
    {
        book.Known("model", one.Model, "model", registry.Models.ContainsKey);
        PositionResource[] known =
        [
            .. registry.ModelList.Where(model => one.Model is null || string.Equals(model.Resource.Model, one.Model, StringComparison.OrdinalIgnoreCase))
                .Select(model => model.Positions.GetValueOrDefault(one.Position)).OfType<PositionResource>(),
        ];
        book.Known("position", one.Position, "position", _ => known.Length > 0);
        book.AboveZero("part_price", one.PartPrice, PlanRules.MostMoney);
        book.AboveZero("planned_visit_cost", one.PlannedVisitCost, PlanRules.MostMoney);
        book.AboveZero("failure_cost", one.FailureCost, PlanRules.MostMoney);
        book.AboveZero("replace_at_days", one.ReplaceAtDays, MostDays);
        if (one is { ReplaceAtDays: not null, RunToFailure: true })
        {
            book.Add("run_to_failure", "either", "It is to be replaced at an age and to run until it fails.", "Give one of the two.");
        }

        if (one.PlannedVisitCost is not null || one.FailureCost is not null)
        {
            PlanTermsResource terms = registry.Plan.Terms;
            foreach (PositionResource position in known.Take(1))
            {
                PlanRules.CheapEnough(
                    one.PlannedVisitCost is null ? "failure_cost" : "planned_visit_cost",
                    one.PlannedVisitCost ?? position.PlannedVisitCost ?? terms.PlannedVisitCost,
                    one.FailureCost ?? position.FailureCost ?? terms.FailureCost, book);
            }
        }
    }

    private static void CheckSuppliers(WhatIfResource asked, RegistrySnapshot registry, RuleBook book, List<FieldProblem> problems)
    {
        IReadOnlyList<WhatIfSupplierResource> suppliers = asked.Suppliers ?? [];
        for (int i = 0; i < suppliers.Count; i++)
        {
            RuleBook line = book.At("suppliers", i);
            line.Known("supplier", suppliers[i].Supplier, "supplier", registry.Plan.Suppliers.ContainsKey);
            line.Between("lead_time_days", suppliers[i].LeadTimeDays, 0, 365);
        }

        problems.AddRange(PlanRules.TooSlow(
            [.. suppliers.Select(one => new SupplierResource(one.Supplier, one.Supplier, one.LeadTimeDays))],
            asked.HorizonWeeks ?? registry.Plan.Terms.HorizonWeeks,
            i => FormattableString.Invariant($"suppliers[{i}].lead_time_days")));
    }
}
