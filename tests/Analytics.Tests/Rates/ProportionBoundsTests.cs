using System.Text.Json;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class ProportionBoundsTests
{
    /// <summary>expected.json, proportion.compliance_bounds: the four cases of Newcombe (1998), Table I.</summary>
    [Fact]
    public void Both_methods_give_the_published_bounds()
    {
        PublishedCheck check = PublishedChecks.Get("proportion.compliance_bounds");
        int cases = 0;
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            (int x, int n) = (e.GetProperty("x").GetInt32(), e.GetProperty("n").GetInt32());
            Estimate wilson = ProportionBounds.Wilson(x, n)!;
            Estimate exact = ProportionBounds.ClopperPearson(x, n)!;
            check.AssertClose(e.GetProperty("proportion"), wilson.Value, $"{x}/{n}");
            check.AssertClose(e.GetProperty("wilson_lower"), wilson.Lower, $"{x}/{n} Wilson lower");
            check.AssertClose(e.GetProperty("wilson_upper"), wilson.Upper, $"{x}/{n} Wilson upper");
            check.AssertClose(e.GetProperty("clopper_pearson_lower"), exact.Lower, $"{x}/{n} exact lower");
            check.AssertClose(e.GetProperty("clopper_pearson_upper"), exact.Upper, $"{x}/{n} exact upper");
            cases++;
        }

        Assert.Equal(4, cases);
    }

    [Fact]
    public void No_cases_give_no_share()
    {
        Assert.Null(ProportionBounds.Wilson(0, 0));
        Assert.Null(ProportionBounds.ClopperPearson(0, 0));
    }

    [Theory]
    [InlineData(20)]
    [InlineData(3)]
    public void Swapping_the_property_mirrors_the_bounds(int n)
    {
        for (int x = 0; x <= n; x++)
        {
            foreach ((Estimate a, Estimate b) in new[]
            {
                (ProportionBounds.Wilson(x, n)!, ProportionBounds.Wilson(n - x, n)!),
                (ProportionBounds.ClopperPearson(x, n)!, ProportionBounds.ClopperPearson(n - x, n)!),
            })
            {
                Assert.Equal(1 - a.Upper!.Value, b.Lower!.Value, 9);
                Assert.True(a.Lower <= a.Value && a.Value <= a.Upper);
            }
        }
    }

    [Theory]
    [InlineData(-1, 5, 0.95)]
    [InlineData(6, 5, 0.95)]
    [InlineData(1, 5, 1.0)]
    [InlineData(1, 5, double.NaN)]
    public void Impossible_numbers_are_refused(int x, int n, double level)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ProportionBounds.Wilson(x, n, level));
        Assert.Throws<ArgumentOutOfRangeException>(() => ProportionBounds.ClopperPearson(x, n, level));
    }
}
