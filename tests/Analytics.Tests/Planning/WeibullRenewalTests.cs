using System.Text.Json;

using MathNet.Numerics;

using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>
/// Renewals and replacement at fixed dates, against expected.json renewal (Xie 1989; Barlow and Proschan 1965; Barlow and Hunter 1960).
/// </summary>
public sealed class WeibullRenewalTests
{
    [Theory]
    [InlineData(1.5, "shape_1.5")]
    [InlineData(2.5, "shape_2.5")]
    public void Expected_failures_are_the_published_ones(double shape, string name)
    {
        PublishedCheck check = PublishedChecks.Get("renewal.weibull_renewal_function");
        double[] times = [.. check.Inputs.GetProperty("t").EnumerateArray().Select(t => t.GetDouble())];
        check.AssertAllClose(WeibullRenewal.Expected(new WeibullLife(shape, 1), times), name);
        check.AssertAllClose(times.Select(t => WeibullRenewal.Expected(new WeibullLife(shape, 400), 400 * t)), name);
    }

    [Theory]
    [InlineData(1e-6)]
    [InlineData(0.4)]
    [InlineData(7)]
    [InlineData(100)]
    public void Without_wear_failures_are_a_poisson_process(double time) =>
        Assert.Equal(1, WeibullRenewal.Expected(new WeibullLife(1, 1), time) / time, tolerance: 1e-8);

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(1.2)]
    [InlineData(2)]
    public void Power_series_gives_the_same_for_short_times(double shape)
    {
        foreach (double time in new[] { 0.01, 0.1, 0.5, 1 })
        {
            Assert.Equal(1, WeibullRenewal.Expected(new WeibullLife(shape, 1), time) / Series(shape, time), tolerance: 1e-7);
        }
    }

    [Theory]
    [InlineData(5)]
    [InlineData(20)]
    [InlineData(50)]
    public void Before_a_second_failure_is_possible_it_is_the_chance_of_the_first(double shape)
    {
        var life = new WeibullLife(shape, 1);
        double time = shape == 5 ? 0.2 : 0.9;
        Assert.Equal(1, WeibullRenewal.Expected(life, time) / life.ChanceWithin(0, time), tolerance: shape == 5 ? 1e-5 : 1e-7);
    }

    [Theory]
    [InlineData(0.3, 1e-3)]
    [InlineData(0.5, 5e-6)]
    [InlineData(0.8, 1e-6)]
    [InlineData(1.3, 1e-8)]
    [InlineData(4, 1e-10)]
    [InlineData(12, 1e-10)]
    public void Limit_takes_over_without_a_step(double shape, double tolerance)
    {
        var life = new WeibullLife(shape, 1);
        double first = SpecialFunctions.Gamma(1 + (1 / shape));
        double squaredVariation = (SpecialFunctions.Gamma(1 + (2 / shape)) / (first * first)) - 1;
        double Limit(double t) => (t / life.Mean) + ((squaredVariation - 1) / 2);
        double last = Enumerable.Range(0, 4000).Select(i => life.Mean * Math.Exp(i / 200.0))
            .TakeWhile(t => shape < 1 || t < life.Mean * (8 + (1 / squaredVariation)))
            .TakeWhile(t => shape >= 1 || life.Survival(t) * Math.Pow(life.MeanResidualLife(t) / life.Mean, 2) >= 1e-6 * t / life.Mean)
            .Last();
        Assert.Equal(1, WeibullRenewal.Expected(life, last) / Limit(last), tolerance);
    }

    [Fact]
    public void Expected_failures_never_fall_and_stay_finite()
    {
        foreach (double shape in new[] { 0.2, 0.7, 1, 3, 20, 50 })
        {
            double before = 0;
            foreach (double time in new[] { 0, 1e-9, 0.1, 0.5, 0.9, 1, 2, 5, 10, 30, 1e3, 1e6, 1e9 })
            {
                double expected = WeibullRenewal.Expected(new WeibullLife(shape, 1), time);
                Assert.True(expected >= before && double.IsFinite(expected), $"{shape} {time}: {before} {expected}");
                before = expected;
            }
        }
    }

    [Fact]
    public void Block_replacement_is_the_published_one()
    {
        PublishedCheck check = PublishedChecks.Get("renewal.block_replacement");
        double shape = check.Inputs.GetProperty("shape").GetDouble();
        Assert.Equal(3, check.Expected.GetArrayLength());
        foreach (JsonElement row in check.Expected.EnumerateArray())
        {
            BlockPolicy policy = BlockReplacement.Find(new WeibullLife(shape, 1), new(1, row.GetProperty("cost_ratio").GetDouble()));
            Assert.Equal(ReplacementVerdict.ReplaceAtAge, policy.Verdict);
            check.AssertClose(row.GetProperty("optimum"), policy.Interval, "optimum");
            check.AssertClose(row.GetProperty("cost_rate"), policy.CostRate, "cost rate");
            check.AssertClose(
                row.GetProperty("cost_relative_to_run_to_failure"), policy.CostRate / policy.RunToFailureCostRate, "relative");
        }
    }

    [Fact]
    public void Block_replacement_saves_nothing_without_wear_or_without_a_cheaper_swap()
    {
        Assert.Equal(ReplacementVerdict.RunToFailure, BlockReplacement.Find(new WeibullLife(0.9, 10), new(1, 10)).Verdict);
        Assert.Equal(ReplacementVerdict.RunToFailure, BlockReplacement.Find(new WeibullLife(1.2, 10), new(1, 1.1)).Verdict);
        Assert.Equal(ReplacementVerdict.PlannedNotCheaper, BlockReplacement.Find(new WeibullLife(3, 10), new(1, 1)).Verdict);
    }

    [Fact]
    public void Periodic_replacement_with_minimal_repair_is_the_published_one()
    {
        PublishedCheck check = PublishedChecks.Get("renewal.periodic_replacement_minimal_repair");
        Assert.Equal(4, check.Expected.GetArrayLength());
        foreach (JsonElement row in check.Expected.EnumerateArray())
        {
            PeriodicPolicy policy = PeriodicReplacement.Find(
                new WeibullLife(row.GetProperty("shape").GetDouble(), 1), 1, row.GetProperty("repair_to_replacement_cost").GetDouble());
            check.AssertClose(row.GetProperty("optimum"), policy.Interval, "optimum");
            check.AssertClose(row.GetProperty("cost_rate"), policy.CostRate, "cost rate");
        }

        Assert.Null(PeriodicReplacement.Find(new WeibullLife(1, 1), 1, 1).Interval);
    }

    /// <summary>Smith and Leadbetter (1963): M(t) = sum of (-1)^(n-1) A(n) t^(n shape) / Gamma(n shape + 1).</summary>
    private static double Series(double shape, double time)
    {
        const int Terms = 40;
        double[] a = new double[Terms + 1];
        double Gamma(double x) => SpecialFunctions.GammaLn(x);
        double G(int n) => Math.Exp(Gamma((n * shape) + 1) - Gamma(n + 1));
        double sum = 0;
        for (int n = 1; n <= Terms; n++)
        {
            a[n] = G(n) - Enumerable.Range(1, n - 1).Sum(j => G(j) * a[n - j]);
            sum += (n % 2 == 1 ? 1 : -1) * a[n] * Math.Exp((n * shape * Math.Log(time)) - Gamma((n * shape) + 1));
        }

        return sum;
    }
}
