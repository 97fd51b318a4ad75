using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>Advice under uncertainty, against the published optima at certainty and against plain simulation of the parameters.</summary>
public sealed class ReplacementAdvisorTests
{
    private static readonly ReplacementCosts Costs = new(400, 2000);

    [Fact]
    public void A_life_that_is_known_gives_the_published_optimum_and_no_range()
    {
        PublishedCheck check = PublishedChecks.Get("age_replacement.cost_curve");
        ReplacementAdvice advice = ReplacementAdvisor.Advise(new LifeUncertainty(new WeibullLife(2.5, 1000), 0, 0, 0, 2.5), Costs);
        Assert.Equal(ReplacementVerdict.ReplaceAtAge, advice.Policy.Verdict);
        check.AssertClose(advice.Policy.Age, "optimum_days");
        check.AssertClose(advice.AgeLow, "optimum_days");
        check.AssertClose(advice.AgeHigh, "optimum_days");
        Assert.Equal(advice.Policy.SavingShare!.Value, advice.SavingLow!.Value, 12);
        Assert.Equal(0, advice.ChanceOfNoOptimum);
    }

    [Fact]
    public void Half_and_double_the_failure_cost_move_the_age_as_the_published_grid_says()
    {
        // Cost ratios 10 / 2 and 10 x 2 of age_replacement.grid, shape 2.5.
        ReplacementAdvice advice = ReplacementAdvisor.Advise(new LifeUncertainty(new WeibullLife(2.5, 1), 0.2, 0.1, 0, 1.8), new(1, 10));
        Assert.Equal(0.4930469576, advice.AgeAtHalfCostRatio!.Value, 9);
        Assert.Equal(0.2623816257, advice.AgeAtDoubleCostRatio!.Value, 9);
    }

    [Fact]
    public void Range_and_saving_agree_with_simulated_parameters()
    {
        var life = new LifeUncertainty(new WeibullLife(2.2, 900), 0.22, 0.13, -0.35, 1.5);
        ReplacementAdvice advice = ReplacementAdvisor.Advise(life, Costs);
        const int Draws = 30_000;
        var random = new MersenneTwister(20251125);
        double[] ages = new double[Draws], savings = new double[Draws];
        for (int i = 0; i < Draws; i++)
        {
            (double a, double b) = (Normal.Sample(random, 0, 1), Normal.Sample(random, 0, 1));
            double second = (-0.35 * a) + (Math.Sqrt(1 - (0.35 * 0.35)) * b);
            var drawn = new WeibullLife(2.2 * Math.Exp(0.22 * a), 900 * Math.Exp(0.13 * second));
            ages[i] = AgeReplacement.Find(drawn, Costs).Age ?? double.PositiveInfinity;
            savings[i] = 1 - (AgeReplacement.CostRate(drawn, Costs, advice.Policy.Age!.Value) * drawn.Mean / Costs.Failure);
        }

        Array.Sort(ages);
        Array.Sort(savings);
        Assert.Equal(1, advice.AgeLow!.Value / ages[Draws / 20], tolerance: 0.005);
        Assert.Equal(1, advice.AgeHigh!.Value / ages[Draws - (Draws / 20)], tolerance: 0.01);
        Assert.Equal(savings[Draws / 20], advice.SavingLow!.Value, tolerance: 0.005);
        Assert.Equal(Normal.CDF(0, 1, -Math.Log(2.2) / 0.22), advice.ChanceOfNoOptimum, 12);
    }

    [Fact]
    public void Wear_that_is_not_shown_asks_to_run_to_failure()
    {
        ReplacementAdvice advice = ReplacementAdvisor.Advise(new LifeUncertainty(new WeibullLife(1.4, 900), 0.3, 0.2, 0, 0.8), Costs);
        Assert.Equal(ReplacementVerdict.RunToFailure, advice.Policy.Verdict);
        Assert.Null(advice.AgeHigh);
        Assert.InRange(advice.ChanceOfNoOptimum, 0.05, 0.2);
        Assert.Equal(ReplacementReason.WearNotShown, advice.Reason);
    }

    [Fact]
    public void A_shape_below_one_has_no_age_at_all()
    {
        ReplacementAdvice advice = ReplacementAdvisor.Advise(new LifeUncertainty(new WeibullLife(0.8, 900), 0.1, 0.1, 0, 0.6), Costs);
        Assert.Equal(ReplacementVerdict.RunToFailure, advice.Policy.Verdict);
        Assert.Null(advice.Policy.Age);
        Assert.Null(advice.SavingLow);
        Assert.InRange(advice.ChanceOfNoOptimum, 0.95, 1);
    }

    [Fact]
    public void A_saving_below_two_percent_is_negligible()
    {
        // Published: shape 2.5, cost ratio 1.5 saves 1.4 %.
        ReplacementAdvice advice = ReplacementAdvisor.Advise(new LifeUncertainty(new WeibullLife(2.5, 1), 0.01, 0.01, 0, 2.4), new(1, 1.5));
        Assert.Equal(ReplacementVerdict.NegligibleSaving, advice.Policy.Verdict);
        Assert.Equal(ReplacementReason.SmallSaving, advice.Reason);
        Assert.Equal(0.014, advice.Policy.SavingShare!.Value, 3);
    }

    [Fact]
    public void A_saving_that_may_be_a_loss_is_negligible()
    {
        ReplacementAdvice advice = ReplacementAdvisor.Advise(new LifeUncertainty(new WeibullLife(1.7, 900), 0.3, 0.3, 0, 1.01), Costs);
        Assert.True(advice.Policy.SavingShare > 0.02);
        Assert.True(advice.SavingLow <= 0);
        Assert.Equal(ReplacementVerdict.NegligibleSaving, advice.Policy.Verdict);
    }

    [Theory]
    [InlineData(500, 500, ReplacementReason.PlannedCostsMore)]
    [InlineData(0, 500, ReplacementReason.PlannedCostsNothing)]
    [InlineData(0, 0, ReplacementReason.FailureCostsNothing)]
    public void Costs_without_a_trade_say_why(double planned, double failure, ReplacementReason reason)
    {
        var life = new LifeUncertainty(new WeibullLife(3, 900), 0.1, 0.1, 0, 2);
        ReplacementAdvice advice = ReplacementAdvisor.Advise(life, new(planned, failure));
        Assert.Equal(ReplacementVerdict.PlannedNotCheaper, advice.Policy.Verdict);
        Assert.Equal(reason, advice.Reason);
    }

    [Fact]
    public void No_figure_is_ever_not_a_number()
    {
        foreach (double shape in new[] { 0.2, 1, 1.01, 3, 50 })
        {
            foreach (double spread in new[] { 0, 0.3, 5 })
            {
                foreach (double ratio in new[] { 1.01, 1e6 })
                {
                    ReplacementAdvice advice = ReplacementAdvisor.Advise(
                        new LifeUncertainty(new WeibullLife(shape, 1e4), spread, spread, -1, shape / 2), new(1, ratio));
                    double?[] figures =
                    [
                        advice.AgeLow, advice.AgeHigh, advice.SavingLow, advice.ChanceOfNoOptimum, advice.AgeAtHalfCostRatio,
                        advice.AgeAtDoubleCostRatio, advice.Policy.Age, advice.Policy.CostRate, advice.Policy.SavingShare,
                    ];
                    Assert.All(figures, f => Assert.True(f is null || double.IsFinite(f.Value), $"{shape} {spread} {ratio}: {advice}"));
                    Assert.True(advice.AgeHigh is null || advice.AgeLow <= advice.AgeHigh);
                }
            }
        }
    }
}
