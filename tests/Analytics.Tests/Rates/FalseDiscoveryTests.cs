using CsCheck;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class FalseDiscoveryTests
{
    [Fact]
    public void The_published_fifteen_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("multiplicity.benjamini_hochberg");
        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust([.. check.Rows.Numbers("p_value")]);
        check.AssertAllClose(adjusted, "adjusted");
        check.AssertClose(adjusted.Count(p => p <= 0.05), "rejected_at_0.05");
    }

    /// <summary>By hand: 0.03 x 3/3 = 0.03 caps 0.02 x 3/2 = 0.03; 0.005 x 3/1 = 0.015. The null is no comparison.</summary>
    [Fact]
    public void Order_is_kept_and_a_test_not_made_does_not_count()
    {
        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust([0.03, null, 0.005, 0.02]);
        Assert.Null(adjusted[1]);
        Assert.Equal(0.03, adjusted[0]!.Value, 1e-15);
        Assert.Equal(0.015, adjusted[2]!.Value, 1e-15);
        Assert.Equal(0.03, adjusted[3]!.Value, 1e-15);
    }

    [Fact]
    public void No_p_values_give_none() => Assert.Empty(FalseDiscovery.Adjust([]));

    [Theory]
    [InlineData(-0.1)]
    [InlineData(1.1)]
    [InlineData(double.NaN)]
    public void An_impossible_p_value_is_refused(double p) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => FalseDiscovery.Adjust([0.5, p]));

    [Fact]
    public void Adjusting_never_lowers_never_reorders_and_stays_a_chance() => Gen.Double[0, 1].Array[1, 40].Sample(ps =>
    {
        double[] adjusted = [.. FalseDiscovery.Adjust([.. ps]).Select(p => p!.Value)];
        for (int i = 0; i < ps.Length; i++)
        {
            Assert.InRange(adjusted[i], ps[i] * (1 - 1e-12), 1);
            Assert.All(Enumerable.Range(0, ps.Length), j => Assert.True(ps[i] > ps[j] || adjusted[i] <= adjusted[j]));
        }
    });
}
