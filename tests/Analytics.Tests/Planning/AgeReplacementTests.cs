using System.Text.Json;

using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>Age replacement, against expected.json (Barlow and Proschan 1965; Glasser 1967) and its own definition.</summary>
public sealed class AgeReplacementTests
{
    private static readonly WeibullLife Worn = new(2.5, 1000);
    private static readonly ReplacementCosts Costs = new(400, 2000);

    [Fact]
    public void Optima_and_savings_are_the_published_ones()
    {
        PublishedCheck check = PublishedChecks.Get("age_replacement.grid");
        JsonElement[] rows = [.. check.Expected.EnumerateArray()];
        Assert.Equal(25, rows.Length);
        foreach (JsonElement row in rows)
        {
            var life = new WeibullLife(row.GetProperty("shape").GetDouble(), 1);
            var costs = new ReplacementCosts(1, row.GetProperty("cost_ratio").GetDouble());
            ReplacementPolicy policy = AgeReplacement.Find(life, costs);
            if (row.GetProperty("optimum").ValueKind == JsonValueKind.String)
            {
                Assert.Equal(ReplacementVerdict.RunToFailure, policy.Verdict);
                Assert.Null(policy.Age);
                Assert.Null(policy.SavingShare);
                continue;
            }

            check.AssertClose(row.GetProperty("optimum"), policy.Age, $"optimum {life.Shape} {costs.Failure}");
            check.AssertClose(row.GetProperty("survival_to_optimum"), life.Survival(policy.Age!.Value), "survival");
            check.AssertClose(row.GetProperty("cost_rate"), policy.CostRate, "cost rate");
            JsonElement relative = row.GetProperty("cost_relative_to_run_to_failure");
            check.AssertClose(relative, policy.CostRate / policy.RunToFailureCostRate, "relative");
            check.AssertClose(relative, 1 - policy.SavingShare, "saving");
        }
    }

    [Fact]
    public void Cost_curve_is_the_published_one()
    {
        PublishedCheck check = PublishedChecks.Get("age_replacement.cost_curve");
        JsonElement inputs = check.Inputs;
        var life = new WeibullLife(inputs.GetProperty("shape").GetDouble(), inputs.GetProperty("scale").GetDouble());
        var costs = new ReplacementCosts(inputs.GetProperty("cp").GetDouble(), inputs.GetProperty("cu").GetDouble());
        ReplacementPolicy policy = AgeReplacement.Find(life, costs);
        check.AssertAllClose(
            inputs.GetProperty("ages").EnumerateArray().Select(a => AgeReplacement.CostRate(life, costs, a.GetDouble())), "cost_rate");
        check.AssertClose(policy.Age, "optimum_days");
        check.AssertClose(policy.CostRate, "optimum_cost_rate");
        check.AssertClose(policy.RunToFailureCostRate, "run_to_failure_cost_rate");
        Assert.Equal(ReplacementVerdict.ReplaceAtAge, policy.Verdict);
    }

    [Fact]
    public void Flat_range_ends_where_the_cost_is_one_percent_above_the_least()
    {
        ReplacementPolicy policy = AgeReplacement.Find(Worn, Costs);
        Assert.Equal(1.01, AgeReplacement.CostRate(Worn, Costs, policy.FlatFrom!.Value) / policy.CostRate!.Value, 9);
        Assert.Equal(1.01, AgeReplacement.CostRate(Worn, Costs, policy.FlatTo!.Value) / policy.CostRate!.Value, 9);
        Assert.True(policy.FlatFrom < policy.Age && policy.Age < policy.FlatTo);
    }

    [Fact]
    public void An_optimum_that_saves_nothing_worth_having_is_called_negligible()
    {
        ReplacementPolicy policy = AgeReplacement.Find(new WeibullLife(1.5, 1), new ReplacementCosts(1, 1.5));
        Assert.Equal(ReplacementVerdict.NegligibleSaving, policy.Verdict);
        Assert.Null(policy.FlatTo);
        Assert.NotNull(policy.Age);
    }

    [Theory]
    [InlineData(0, 100)]
    [InlineData(100, 100)]
    [InlineData(200, 100)]
    [InlineData(0, 0)]
    public void Without_a_cheaper_planned_swap_there_is_nothing_to_trade(double planned, double failure) => Assert.Equal(
        ReplacementVerdict.PlannedNotCheaper, AgeReplacement.Find(Worn, new ReplacementCosts(planned, failure)).Verdict);

    [Theory]
    [InlineData(-1, 1)]
    [InlineData(1, double.NaN)]
    [InlineData(double.PositiveInfinity, 1)]
    public void Costs_out_of_range_are_refused(double planned, double failure) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new ReplacementCosts(planned, failure));

    [Fact]
    public void No_age_on_a_fine_grid_beats_the_optimum_over_the_whole_range_of_inputs()
    {
        foreach (double shape in new[] { 1.001, 1.02, 1.2, 2, 5, 50 })
        {
            foreach (double ratio in new[] { 1.0001, 1.5, 10, 1e3, 1e6 })
            {
                foreach (double scale in new[] { 1e-3, 1, 1e9 })
                {
                    var life = new WeibullLife(shape, scale);
                    var costs = new ReplacementCosts(3, 3 * ratio);
                    ReplacementPolicy policy = AgeReplacement.Find(life, costs);
                    Assert.InRange(policy.CostRate ?? policy.RunToFailureCostRate, 1e-300, policy.RunToFailureCostRate);
                    double about = policy.Age is < 1e300 ? policy.Age.Value : scale;
                    double least = Enumerable.Range(-400, 800).Min(i => AgeReplacement.CostRate(life, costs, about * Math.Exp(i / 100.0)));
                    Assert.True(least >= (policy.CostRate ?? policy.RunToFailureCostRate) * (1 - 1e-12), $"{shape} {ratio} {scale}");
                    Assert.All(AgeReplacement.Curve(life, costs, 5), p => Assert.True(double.IsFinite(p.CostRate)));
                }
            }
        }
    }

    [Fact]
    public void Extra_cost_is_nil_at_the_optimum_and_is_the_integral_elsewhere()
    {
        double best = AgeReplacement.Find(Worn, Costs).Age!.Value, rate = AgeReplacement.CostRate(Worn, Costs, best);
        Assert.Equal(0, AgeReplacement.ExtraCost(Worn, Costs, best, best), 9);
        foreach (double age in new[] { 0, 200, 480, 700, 2000 })
        {
            const int Cells = 100_000;
            double step = (age - best) / Cells;
            double sum = Enumerable.Range(0, Cells).Sum(i => ((Worn.Hazard(best + ((i + 0.5) * step)) * 1600) - rate) * step);
            Assert.Equal(sum, AgeReplacement.ExtraCost(Worn, Costs, best, age), 5);
            Assert.True(sum > 0);
        }
    }

    [Fact]
    public void Curve_spans_twice_the_mean_life_and_holds_the_optimum()
    {
        IReadOnlyList<CostPoint> curve = AgeReplacement.Curve(Worn, Costs);
        Assert.Equal(60, curve.Count);
        Assert.Equal(2 * Worn.Mean, curve[^1].Age, 6);
        Assert.All(curve, p => Assert.Equal(AgeReplacement.CostRate(Worn, Costs, p.Age), p.CostRate, 12));
        Assert.InRange(curve.MinBy(p => p.CostRate)!.Age, 450, 540);
    }
}
