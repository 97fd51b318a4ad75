using Washwear.Analytics.Planning;

namespace Washwear.Benchmarks.Planning;

/// <summary>
/// Follows the plan made at the end of year 2, remade each quarter of year 3 and each year after, against running to failure and a yearly swap,
/// on fleets of which every life is known. The other ways to make a plan show where it gains or loses: swaps past an age while somebody is there,
/// bounds of the life, the price of a swap, and the life not being known.
/// </summary>
internal static class PlanBenchmark
{
    private const int Seeds = 20;
    private const double Year = 365;
    private const double PlannedOn = 2 * Year;
    private const double LastDay = 8 * Year;
    private const double Ahead = 90;
    private const double LeastSaving = 0.15;
    private const double MostLoss = 0.02;

    private static readonly Policy[] Policies =
    [
        new("run to failure", null, false), new("yearly swap of all", null, true), new("the plan", PlanBasis.Advice, false),
        new("plan, no swaps past an age", PlanBasis.WithoutCompanions, false), new("plan by the estimate alone", PlanBasis.EstimateAlone, false),
        new("plan, half a visit a swap", PlanBasis.HalfVisit, false), new("plan by the true life", PlanBasis.TrueLife, false),
    ];

    private const int Plan = 2;

    public static Task RunAsync(int? seeds = null)
    {
        int count = seeds ?? Seeds;
        Report.Line($"Means of {count} fleets ± standard error. Cost: paid in year 3, and what the parts at its end are worth less than those at its begin.");
        Report.Line($"Six years: the same a year, for years 3 to 8. Goals are held to the six years: in year 3 a yearly swap only begins, its parts aged on average half a year more.");
        foreach (PlanScenario scenario in PlanScenario.All)
        {
            Outcome[] fleets = [.. Enumerable.Range(1, count).Select(seed => Play(scenario, seed))];
            Print(scenario, fleets);
            PlanForecasts.Print([.. fleets.Select(f => f.Forecasts)]);
        }

        return Task.CompletedTask;
    }

    private static Outcome Play(PlanScenario scenario, int seed)
    {
        var fleet = new FollowedFleet(scenario, seed);
        fleet.Follow(PlannedOn, [.. scenario.Lives.Select(_ => SwapRule.Never)]);
        var forecasts = new List<ForecastCase>();
        return new Outcome([.. Policies.Select(policy => Follow(scenario, fleet.Copy(), policy, policy.Basis == PlanBasis.Advice ? forecasts : null))], forecasts);
    }

    private static Followed Follow(PlanScenario scenario, FollowedFleet fleet, Policy policy, List<ForecastCase>? forecasts)
    {
        PlanTally begin = fleet.Tally, yearThree = default;
        double lostAtBegin = PartsWorth.Lost(scenario, fleet), lostInYear = 0;
        while (fleet.Day < LastDay)
        {
            bool first = fleet.Day < PlannedOn + Year;
            SwapRule[] rules = Rules(scenario, fleet, policy, first ? forecasts : null);
            fleet.Follow(fleet.Day + (first ? Year / 4 : Year), rules, policy.Yearly);
            if (Math.Abs(fleet.Day - (PlannedOn + Year)) < 1)
            {
                (yearThree, lostInYear) = (fleet.Tally.Since(begin), PartsWorth.Lost(scenario, fleet) - lostAtBegin);
            }
        }

        double lost = PartsWorth.Lost(scenario, fleet) - lostAtBegin;
        return new Followed(yearThree, yearThree.Cost + lostInYear, (fleet.Tally.Since(begin).Cost + lost) * Year / (LastDay - PlannedOn));
    }

    private static SwapRule[] Rules(PlanScenario scenario, FollowedFleet fleet, Policy policy, List<ForecastCase>? forecasts)
    {
        if (policy.Basis is not { } basis)
        {
            return [.. scenario.Lives.Select(_ => SwapRule.Never)];
        }

        MadeRule[] made = PlanMaker.Make(scenario, fleet, basis);
        forecasts?.AddRange(
            from part in fleet.Working(Ahead)
            where made[part.Position].Life is not null
            select new ForecastCase(made[part.Position].Life!.Value.ChanceWithin(part.Age, part.FurtherClock), part.Fails));
        return [.. made.Select(m => m.Rule)];
    }

    private static void Print(PlanScenario scenario, Outcome[] fleets)
    {
        string shapes = string.Join(", ", scenario.Lives.Select(l => FormattableString.Invariant($"{l.Scale:G} at shape {l.Shape:G}")));
        Report.Line($"\n{scenario.Name}: {scenario.Units} units; scale {shapes}; a failure costs {scenario.FailureRatio:G} planned swaps");
        for (int i = 0; i < Policies.Length; i++)
        {
            Followed[] own = [.. fleets.Select(f => f.Followed[i])];
            double failures = own.Average(o => o.YearThree.Failures);
            Report.Line($"  {Policies[i].Name,-27} year 3: {failures,6:F1} failures {own.Average(o => o.YearThree.Visits),6:F1} visits {own.Average(o => o.YearThree.EarlySwaps),6:F1} early swaps {failures * PlanScenario.UnwashedDays,6:F0} unwashed days; paid {Mean(own, o => o.YearThree.Cost)}, cost {Mean(own, o => o.YearCost)}; six years {Mean(own, o => o.LongRun)}");
        }

        double renewals = Year * scenario.Units * scenario.Lives.Sum(life => scenario.Costs.Failure / life.Mean);
        Report.Line($"  run to failure over six years against the renewal theorem (cost of a failure / mean life): {fleets.Average(f => f.Followed[0].LongRun) / renewals:F3}");
        (double year, double yearError) = Saving(fleets, f => f.YearCost);
        (double longRun, double longError) = Saving(fleets, f => f.LongRun);
        (double paid, double paidError) = Saving(fleets, f => f.YearThree.Cost);
        Report.Line($"  saved against the better of the two: over six years {longRun:P1} ± {longError:P1}; of the cost of year 3 {year:P1} ± {yearError:P1}; of the money paid in year 3 alone {paid:P1} ± {paidError:P1}");
        if (scenario.WearPays)
        {
            Report.Against("  share saved over six years", longRun, LeastSaving, least: true);
        }
        else
        {
            Report.Against("  share lost over six years", 0 - longRun, MostLoss, least: false);
        }
    }

    /// <summary>Share saved against the policy that is cheaper on average; its error from the differences of the same fleets.</summary>
    private static (double Share, double Error) Saving(Outcome[] fleets, Func<Followed, double> cost)
    {
        int better = fleets.Sum(f => cost(f.Followed[0])) <= fleets.Sum(f => cost(f.Followed[1])) ? 0 : 1;
        double all = fleets.Average(f => cost(f.Followed[better])), plan = fleets.Average(f => cost(f.Followed[Plan]));
        double[] off = [.. fleets.Select(f => (cost(f.Followed[Plan]) - (plan / all * cost(f.Followed[better]))) / all)];
        return (1 - (plan / all), StandardError(off));
    }

    private static string Mean(Followed[] own, Func<Followed, double> of)
    {
        double[] values = [.. own.Select(of)];
        return FormattableString.Invariant($"{values.Average(),7:F0} ± {StandardError(values):F0}");
    }

    private static double StandardError(double[] values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / Math.Max(1, values.Length - 1) / values.Length);
    }

    private sealed record Policy(string Name, PlanBasis? Basis, bool Yearly);

    private sealed record Followed(PlanTally YearThree, double YearCost, double LongRun);

    private sealed record Outcome(Followed[] Followed, IReadOnlyList<ForecastCase> Forecasts);
}
