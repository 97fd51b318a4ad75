using System.Globalization;
using System.Text.Json;
using MathNet.Numerics;
using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

public sealed class CompanionSimulationTests
{
    private static readonly CompanionCase PumpAndHose = new(new(2, 700), 300, new(3, 1500), 900, 300, 40, 25, 4, 730);

    /// <summary>Long-run rates of the published pump and hose: fifty million days of each rule.</summary>
    [Fact]
    public void The_published_pump_and_hose_are_met_in_the_long_run()
    {
        PublishedCheck check = PublishedChecks.Get("opportunity_replacement.companion_pump_renewals");
        double In(string name) => check.Inputs.GetProperty(name).GetDouble();
        double pump = In("pump_mean_days") / SpecialFunctions.Gamma(1 + (1 / In("pump_shape")));
        const double horizon = 5_000_000;
        var companions = new CompanionCase(
            new(In("pump_shape"), pump), 0, new(In("hose_shape"), In("hose_scale_days")), 0, In("visit"), In("part"), 0, 0, horizon);
        Assert.Equal(5, check.Value("simulated").GetArrayLength());
        foreach (JsonElement e in check.Value("simulated").EnumerateArray())
        {
            JsonElement days = e.GetProperty("limit_days");
            double? limit = days.ValueKind == JsonValueKind.String ? null : days.GetDouble();
            CompanionOutcome outcome = CompanionSimulation.Run(companions, limit, runs: 10).WithLimit;
            string at = limit?.ToString(CultureInfo.InvariantCulture) ?? "never";
            check.AssertClose(e.GetProperty("hose_cost_per_day"), outcome.Cost / horizon, at);
            check.AssertClose(e.GetProperty("hose_failures_per_year"), outcome.Failures / horizon * 365.25, at);
            check.AssertClose(e.GetProperty("hose_swaps_per_year"), outcome.Swaps / horizon * 365.25, at);
        }
    }

    /// <summary>With a shape of 1 the pump's failures are a Poisson process, for which the arithmetic holds.</summary>
    [Fact]
    public void Poisson_visits_agree_with_the_arithmetic()
    {
        OpportunityPolicy policy = OpportunityReplacement.At(new(3, 1500), new(40, 340), 1.0 / 500, 306);
        const double horizon = 10_000_000;
        CompanionOutcome outcome = CompanionSimulation.Run(new(new(1, 500), 0, new(3, 1500), 0, 300, 40, 0, 0, horizon), 306, 10).WithLimit;
        Assert.InRange((outcome.Cost / horizon) - policy.CostRate, -4 * outcome.CostStandardError / horizon, 4 * outcome.CostStandardError / horizon);
        Assert.InRange(outcome.CostStandardError / outcome.Cost, 0, 0.005);
    }

    /// <summary>Within a time that no second life fits in, the failures are those of the life curve from the age it has.</summary>
    [Fact]
    public void A_short_horizon_gives_the_chance_to_fail_from_the_age_now()
    {
        CompanionOutcome never = CompanionSimulation.Run(PumpAndHose with { HorizonTime = 50 }, null, 200_000).Never;
        double chance = PumpAndHose.Companion.ChanceWithin(900, 50);
        double error = Math.Sqrt(chance * (1 - chance) / 200_000);
        Assert.InRange(never.Failures, chance - (4 * error), chance + (4 * error));
        Assert.Equal(never.Failures * 365, never.Cost, 1e-9);
        Assert.Equal(never.Failures * 4, never.UnwashedDays, 1e-9);
        Assert.Equal(365 * error, never.CostStandardError, 365 * error * 0.05);
    }

    [Fact]
    public void The_saving_is_the_difference_and_known_better_than_either_cost()
    {
        CompanionSaving saving = CompanionSimulation.Run(PumpAndHose, 300);
        Assert.Equal(saving.Never.Cost - saving.WithLimit.Cost, saving.Saving, 1e-9);
        Assert.Equal(saving.Never.UnwashedDays - saving.WithLimit.UnwashedDays, saving.UnwashedDaysSaved, 1e-9);
        double apart = Math.Sqrt(Math.Pow(saving.Never.CostStandardError, 2) + Math.Pow(saving.WithLimit.CostStandardError, 2));
        Assert.InRange(saving.SavingStandardError, 1e-9, apart);
        Assert.True(saving.Saving > 10 * saving.SavingStandardError, $"{saving}");
        Assert.Equal(saving, CompanionSimulation.Run(PumpAndHose, 300));
        Assert.NotEqual(saving, CompanionSimulation.Run(PumpAndHose, 300, seed: 2));
    }

    [Fact]
    public void No_limit_saves_nothing_and_swaps_nothing()
    {
        CompanionSaving saving = CompanionSimulation.Run(PumpAndHose, null);
        Assert.Equal((0, 0, 0), (saving.Saving, saving.SavingStandardError, saving.UnwashedDaysSaved));
        Assert.Equal(saving.Never, saving.WithLimit);
        Assert.Equal(0, saving.Never.Swaps);
    }

    [Fact]
    public void Numbers_out_of_range_are_refused()
    {
        void Refused(CompanionCase c, double? limit = 5, int runs = 10) =>
            Assert.ThrowsAny<ArgumentOutOfRangeException>(() => CompanionSimulation.Run(c, limit, runs));
        Refused(PumpAndHose with { OpenerAge = -1 });
        Refused(PumpAndHose with { DamageCost = double.NaN });
        Refused(PumpAndHose with { HorizonTime = 0 });
        Refused(PumpAndHose with { HorizonTime = 1e12 });
        Refused(PumpAndHose, limit: double.PositiveInfinity);
        Refused(PumpAndHose, runs: 1);
    }
}
