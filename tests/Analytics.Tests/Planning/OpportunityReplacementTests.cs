using System.Text.Json;
using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

public sealed class OpportunityReplacementTests
{
    [Fact]
    public void The_published_grid_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("opportunity_replacement.grid");
        int seen = 0;
        foreach (JsonElement block in check.Expected.EnumerateArray())
        {
            var life = new WeibullLife(block.GetProperty("shape").GetDouble(), 1);
            var costs = new OpportunityCosts(1, block.GetProperty("cost_ratio").GetDouble());
            foreach (JsonElement e in block.GetProperty("by_opportunity_rate").EnumerateArray())
            {
                OpportunityPolicy policy = OpportunityReplacement.Find(life, costs, e.GetProperty("opportunities_per_scale").GetDouble());
                check.AssertClose(e.GetProperty("limit"), policy.Limit, "limit");
                check.AssertClose(e.GetProperty("cost_rate"), policy.CostRate, "cost rate");
                check.AssertClose(
                    e.GetProperty("cost_relative_to_run_to_failure"), policy.CostRate / policy.RunToFailureCostRate, "relative");
                check.AssertClose(
                    e.GetProperty("always_replace_relative"), policy.AlwaysCostRate / policy.RunToFailureCostRate, "always");
                check.AssertClose(e.GetProperty("share_of_cycles_ending_in_failure"), policy.ShareEndingInFailure, "share");
                check.AssertClose(e.GetProperty("mean_cycle"), policy.MeanCycle, "cycle");
                seen++;
            }
        }

        Assert.Equal(45, seen);
    }

    [Fact]
    public void The_published_cost_curve_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("opportunity_replacement.cost_curve");
        OpportunityPolicy[] points = [.. check.Inputs.GetProperty("limits").EnumerateArray().Select(
            l => OpportunityReplacement.At(new(2.5, 1), new(1, 5), 2, l.GetDouble()))];
        check.AssertAllClose(points.Select(p => p.CostRate), "cost_rate");
        check.AssertAllClose(points.Select(p => p.ShareEndingInFailure), "probability_of_failure_first");
        check.AssertAllClose(points.Select(p => p.MeanCycle), "mean_cycle");
        check.AssertClose(points[0].RunToFailureCostRate, "run_to_failure");
    }

    [Fact]
    public void A_part_without_wear_is_never_swapped()
    {
        PublishedCheck check = PublishedChecks.Get("opportunity_replacement.no_wear");
        var life = new WeibullLife(1, 1);
        check.AssertAllClose(
            check.Inputs.GetProperty("limits").EnumerateArray().Select(
                l => OpportunityReplacement.At(life, new(1, 5), 2, l.GetDouble()).CostRate),
            "cost_rate");
        Assert.Equal("never", check.Value("optimum").GetString());
        Assert.Null(OpportunityReplacement.Find(life, new(1, 5), 2).Limit);
    }

    [Fact]
    public void The_published_pump_and_hose_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("opportunity_replacement.companion_pump_and_hose");
        Assert.Equal(5, check.Expected.GetArrayLength());
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            double Of(string name) => e.GetProperty(name).GetDouble();
            var life = new WeibullLife(Of("shape"), Of("scale_days"));
            var costs = new OpportunityCosts(Of("part"), Of("visit") + Of("part") + Of("damage"));
            OpportunityPolicy policy = OpportunityReplacement.Find(life, costs, 1 / Of("mean_days_between_visits"));
            check.AssertClose(e.GetProperty("swap_past_days"), policy.Limit, "limit");
            check.AssertClose(e.GetProperty("cost_per_day"), policy.CostRate, "cost");
            check.AssertClose(e.GetProperty("never_swap_cost_per_day"), policy.RunToFailureCostRate, "never");
            check.AssertClose(e.GetProperty("swap_at_every_visit_cost_per_day"), policy.AlwaysCostRate, "always");
            check.AssertClose(e.GetProperty("share_of_hoses_that_fail"), policy.ShareEndingInFailure, "share");
            check.AssertClose(e.GetProperty("mean_hose_life_used_days"), policy.MeanCycle, "life used");
        }
    }

    [Fact]
    public void Rare_and_frequent_opportunities_give_finite_figures_no_worse_than_either_plain_rule()
    {
        foreach (double shape in (double[])[0.5, 1, 1.05, 1.5, 3, 10, 50])
        {
            foreach (double rate in (double[])[1e-6, 1e-3, 1, 1e2, 1e4])
            {
                foreach (double ratio in (double[])[1, 1.01, 3, 1000])
                {
                    OpportunityPolicy policy = OpportunityReplacement.Find(new(shape, 700), new(20, 20 * ratio), rate / 700);
                    string at = $"shape {shape}, rate {rate}, ratio {ratio}: {policy}";
                    Assert.True(double.IsFinite(policy.CostRate + policy.AlwaysCostRate + policy.MeanCycle), at);
                    Assert.InRange(policy.ShareEndingInFailure, 0, 1);
                    Assert.True(policy.CostRate <= policy.RunToFailureCostRate * (1 + 1e-9), at);
                    Assert.True(policy.CostRate <= policy.AlwaysCostRate * (1 + 1e-9) || ratio == 1, at);
                    Assert.Equal(shape > 1 && ratio > 1, policy.Limit is not null);
                }
            }
        }
    }

    [Fact]
    public void The_limit_grows_towards_age_replacement_as_opportunities_become_frequent()
    {
        PublishedCheck check = PublishedChecks.Get("opportunity_replacement.grid");
        JsonElement block = check.Expected[4];
        double age = block.GetProperty("limit_as_rate_grows").GetProperty("limit").GetDouble();
        Assert.Equal(age, AgeReplacement.Find(new(2.5, 1), new(1, 5)).Age!.Value, age * 1e-6);
        Assert.Equal(age, OpportunityReplacement.Find(new(2.5, 1), new(1, 5), 1e7).Limit!.Value, age * 1e-6);
    }

    [Fact]
    public void A_free_swap_is_made_at_every_opportunity_and_without_opportunities_none_is()
    {
        Assert.Equal(0, OpportunityReplacement.Find(new(2, 100), new(0, 5), 0.01).Limit);
        Assert.Null(OpportunityReplacement.Find(new(2, 100), new(1, 5), 0).Limit);
        Assert.Throws<ArgumentOutOfRangeException>(() => OpportunityReplacement.Find(new(2, 100), new(1, 5), double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => OpportunityReplacement.At(new(2, 100), new(1, 5), 1, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OpportunityCosts(-1, 5));
    }
}
