using System.Text.Json;

using Washwear.Analytics.PartLife;
using Washwear.Analytics.Planning;
using Washwear.Analytics.Tests.PartLife;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>Demand for spares, against expected.json spares (convolution, discrete Fourier transform, Gauss-Hermite in R).</summary>
public sealed class DemandDistributionTests
{
    /// <summary>Lives of the published fit with the spread that it gives.</summary>
    internal static LifeUncertainty PublishedFit
    {
        get
        {
            FittedLife fit = Assert.IsType<FittedLife>(WeibullFit.Fit(PublishedLives.FromStatus("nist_weibull_censored.csv", "hours")));
            double shape = Math.Sqrt(fit.VarianceOfLogShape), scale = Math.Sqrt(fit.VarianceOfLogScale);
            return new LifeUncertainty(
                new WeibullLife(fit.Curve.Shape, fit.Curve.Scale),
                shape,
                scale,
                fit.CovarianceOfLogs / (shape * scale),
                WeibullBounds.Shape(fit).Lower ?? 0);
        }
    }

    /// <summary>The parts of a check with ages and one window.</summary>
    internal static AgeAndWindow[] Parts(JsonElement inputs)
    {
        double window = inputs.GetProperty("window").GetDouble();
        return [.. inputs.GetProperty("ages").EnumerateArray().Select(a => new AgeAndWindow(a.GetDouble(), window))];
    }

    [Fact]
    public void Demand_of_the_constructed_fleet_is_the_published_one()
    {
        PublishedCheck check = PublishedChecks.Get("spares.poisson_binomial_fleet");
        double Input(string name) => check.Inputs.GetProperty(name).GetDouble();
        var life = new WeibullLife(Input("shape"), Input("scale"));
        AgeAndWindow[] parts = [.. check.Rows.Numbers("age_days").Select(a => new AgeAndWindow(a, Input("window")))];
        Demand demand = DemandDistribution.Known(life, parts);
        check.AssertAllClose(parts.Select(p => life.ChanceWithin(p.Age, p.Window)), "unit_probabilities");
        check.AssertAllClose(demand.Probabilities, "probabilities");
        check.AssertClose(demand.Mean, "mean");
        check.AssertClose(demand.Variance, "variance");
        int stock = demand.SmallestStock(Input("level"));
        Assert.Equal(check.Value("smallest_stock").GetInt32(), stock);
        check.AssertClose(demand.Service(stock), "service_at_stock");
        check.AssertClose(demand.Service(stock - 1), "service_one_less");
        check.AssertClose(demand.ServiceAt(stock)[stock - 1], "service_one_less");
    }

    [Fact]
    public void Demand_of_given_chances_is_the_published_one_at_each_level()
    {
        PublishedCheck check = PublishedChecks.Get("spares.poisson_binomial_given");
        double[] chances = [.. check.Inputs.GetProperty("probabilities").EnumerateArray().Select(p => p.GetDouble())];
        Demand demand = DemandDistribution.PoissonBinomial(chances);
        check.AssertAllClose(demand.Probabilities, "level_0.95", "probabilities");
        check.AssertClose(demand.Mean, "level_0.95", "mean");
        check.AssertClose(demand.Variance, "level_0.95", "variance");
        foreach ((string name, double level) in new[] { ("level_0.90", 0.9), ("level_0.95", 0.95), ("level_0.99", 0.99) })
        {
            int stock = demand.SmallestStock(level);
            Assert.Equal(check.Value(name, "smallest_stock").GetInt32(), stock);
            Assert.Equal(stock, demand.Quantile(level));
            check.AssertClose(demand.Service(stock), name, "service_at_stock");
        }
    }

    [Theory]
    [InlineData("plug_in")]
    [InlineData("normal_mixture")]
    public void Demand_with_an_estimated_life_is_the_published_one(string kind)
    {
        PublishedCheck check = PublishedChecks.Get("spares.estimated_parameters");
        LifeUncertainty life = PublishedFit;
        AgeAndWindow[] parts = Parts(check.Inputs);
        Demand demand = kind == "plug_in" ? DemandDistribution.Known(life.Estimate, parts) : DemandDistribution.Estimated(life, parts);
        check.AssertAllClose(demand.Probabilities, kind, "probabilities");
        check.AssertClose(demand.Mean, kind, "mean");
        check.AssertClose(demand.Variance, kind, "variance");
        Assert.Equal(check.Value(kind, "stock_0.90").GetInt32(), demand.SmallestStock(0.9));
        Assert.Equal(check.Value(kind, "stock_0.95").GetInt32(), demand.SmallestStock(0.95));
        Assert.Equal(check.Value(kind, "stock_0.99").GetInt32(), demand.SmallestStock(0.99));
    }

    [Theory]
    [InlineData(0.001)]
    [InlineData(0.03)]
    [InlineData(0.5)]
    public void Twenty_thousand_parts_of_one_chance_are_binomial(double chance)
    {
        const int Count = 20_000;
        Demand demand = DemandDistribution.PoissonBinomial([.. Enumerable.Repeat(chance, Count)]);
        Assert.Equal(1, demand.Probabilities.Sum(), tolerance: 1e-12);
        var binomial = new MathNet.Numerics.Distributions.Binomial(chance, Count);
        for (int i = 0; i < demand.Probabilities.Count; i++)
        {
            // MathNet's logarithms of factorials are good to about 1e-11 here.
            Assert.Equal(binomial.Probability(i), demand.Probabilities[i], tolerance: 2e-12);
        }
    }

    [Fact]
    public void Sum_of_demands_is_the_demand_of_all_parts()
    {
        double[] chances = [0.05, 0.1, 0.1, 0.2, 0.25, 0.3, 0.4, 0.5];
        Demand whole = DemandDistribution.PoissonBinomial(chances);
        Demand sum = DemandDistribution.Sum(
            [DemandDistribution.PoissonBinomial(chances[..5]), DemandDistribution.PoissonBinomial(chances[5..])]);
        Assert.Equal(whole.Probabilities.Count, sum.Probabilities.Count);
        Assert.All(whole.Probabilities.Zip(sum.Probabilities), p => Assert.Equal(p.First, p.Second, 15));
        Assert.Equal(whole.Variance, sum.Variance, 12);
    }

    [Fact]
    public void Nothing_at_work_asks_for_nothing()
    {
        Demand none = DemandDistribution.PoissonBinomial([]);
        Assert.Equal([1], none.Probabilities);
        Assert.Equal(0, none.SmallestStock(0.99));
        Assert.Equal(0, DemandDistribution.Sum([]).Mean);
        Assert.Equal(0, DemandDistribution.Estimated(PublishedFit, []).Mean);
    }

    [Fact]
    public void Sure_failures_are_all_stocked()
    {
        Demand sure = DemandDistribution.PoissonBinomial([1, 1, 0, 1]);
        Assert.Equal(3, sure.SmallestStock(0.5));
        Assert.Equal(0, sure.Service(2));
        Assert.Equal(1, sure.Service(7));
    }

    [Theory]
    [InlineData(-0.1)]
    [InlineData(1.1)]
    [InlineData(double.NaN)]
    public void Chances_out_of_range_are_refused(double chance) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => DemandDistribution.PoissonBinomial([chance]));
}
