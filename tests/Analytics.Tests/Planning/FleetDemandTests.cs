using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>The quick demand of fleets against the exact one, which is checked against published distributions.</summary>
public sealed class FleetDemandTests
{
    private const double StatedDifference = 0.001;

    private static readonly LifeUncertainty Life = new(new WeibullLife(2.5, 1460), 0.12, 0.08, 0.3, 1.6);

    [Theory]
    [InlineData(3)]
    [InlineData(60)]
    [InlineData(300)]
    [InlineData(301)]
    [InlineData(900)]
    public void Chances_are_those_of_the_exact_sum_within_what_is_stated(int count)
    {
        AgeAndWindow[] parts = [.. Enumerable.Range(0, count).Select(i => new AgeAndWindow(i * 1500.0 / count, 90))];
        Demand exact = DemandDistribution.Estimated(Life, parts);
        Demand quick = FleetDemand.Estimated(Life, parts);
        Assert.Equal(exact.Mean, quick.Mean, exact.Mean * 1e-4);
        Assert.Equal(1, quick.Probabilities.Sum(), 1e-9);
        IReadOnlyList<double> wanted = exact.ServiceAt(count);
        IReadOnlyList<double> given = quick.ServiceAt(count);
        Assert.All(Enumerable.Range(0, count + 1), k => Assert.Equal(wanted[k], given[k], StatedDifference));
    }

    [Fact]
    public void Many_parts_that_cannot_fail_ask_for_none() =>
        Assert.Equal(0, FleetDemand.Estimated(Life, [.. Enumerable.Repeat(new AgeAndWindow(100, 0), 500)]).SmallestStock(0.9999));
}
