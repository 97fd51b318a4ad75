using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>
/// Demand by the parametric bootstrap, against 10,000 refits in R. Its own note: mean and variance to 0.02 relative, each probability to
/// 0.01 absolute, stock to one part.
/// </summary>
public sealed class DemandBootstrapTests
{
    [Fact]
    public void Demand_agrees_with_the_refits_of_the_reference()
    {
        PublishedCheck check = PublishedChecks.Get("spares.estimated_parameters_bootstrap");
        BootstrapPlan plan = new(20, 500, check.Inputs.GetProperty("replicates").GetInt32());
        BootstrapDemand result = DemandBootstrap.Estimated(
            DemandDistributionTests.PublishedFit.Estimate, DemandDistributionTests.Parts(check.Inputs), plan);
        Demand demand = result.Demand!;
        check.AssertClose(demand.Mean, "mean");
        check.AssertClose(demand.Variance, "variance");
        double[] expected = [.. check.Value("probabilities").EnumerateArray().Select(p => p.GetDouble())];
        Assert.Equal(expected.Length, demand.Probabilities.Count);
        Assert.All(expected.Zip(demand.Probabilities), p => Assert.Equal(p.First, p.Second, tolerance: 0.01));
        foreach ((string name, double level) in new[] { ("stock_0.90", 0.9), ("stock_0.95", 0.95), ("stock_0.99", 0.99) })
        {
            Assert.InRange(demand.SmallestStock(level) - check.Value(name).GetInt32(), -1, 1);
        }

        Assert.Equal(check.Inputs.GetProperty("samples_dropped").GetInt32(), result.Dropped);
        Assert.Equal(10_000, result.Fitted);
    }

    [Fact]
    public void The_same_seed_gives_the_same_demand_and_another_gives_another()
    {
        AgeAndWindow[] parts = [new(5, 5), new(9, 5)];
        double Mean(int seed) => DemandBootstrap.Estimated(new WeibullLife(2, 10), parts, new(20, 12, 50, seed)).Demand!.Mean;
        Assert.Equal(Mean(3), Mean(3));
        Assert.NotEqual(Mean(3), Mean(4));
    }

    [Fact]
    public void Records_in_which_nothing_can_fail_give_no_demand() => Assert.Equal(
        new BootstrapDemand(null, 0, 20), DemandBootstrap.Estimated(new WeibullLife(3, 1000), [new(5, 5)], new(10, 1, 20)));

    [Fact]
    public void A_plan_out_of_range_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(
        () => DemandBootstrap.Estimated(new WeibullLife(3, 1000), [], new(1, 10)));
}
