using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Tests.Numerics;

public sealed class ChiSquareTests
{
    /// <summary>By hand: with 2 degrees of freedom the tail is e^(-x/2), with 4 it is (1 + x/2) e^(-x/2), far out too.</summary>
    [Theory]
    [InlineData(0.5)]
    [InlineData(20)]
    [InlineData(200)]
    public void Even_degrees_have_closed_tails(double x)
    {
        Assert.Equal(Math.Exp(-x / 2), ChiSquare.UpperTail(x, 2), Math.Exp(-x / 2) * 1e-10);
        Assert.Equal((1 + (x / 2)) * Math.Exp(-x / 2), ChiSquare.UpperTail(x, 4), Math.Exp(-x / 2) * x * 1e-10);
    }

    /// <summary>By hand: with 2 degrees of freedom 1 - e^(-x/2), and near 0 with n of them (x/2)^(n/2) / (n/2)!, however small.</summary>
    [Fact]
    public void Lower_tails_keep_their_digits()
    {
        Assert.Equal(1 - Math.Exp(-1.5), ChiSquare.LowerTail(3, 2), 1e-12);
        Assert.Equal(5e-19, ChiSquare.LowerTail(1e-18, 2), 5e-27);
        Assert.Equal(1e-40 / 24, ChiSquare.LowerTail(2e-10, 8), 1e-48);
        Assert.Equal(0, ChiSquare.LowerTail(-1e-12, 3));
    }

    /// <summary>Common tables: 95 % of 1 and 10, 2.5 % of 20 degrees of freedom.</summary>
    [Theory]
    [InlineData(0.95, 1, 3.841458820694124)]
    [InlineData(0.95, 10, 18.307038053275146)]
    [InlineData(0.025, 20, 9.590777392264867)]
    public void Quantiles_are_those_of_the_tables(double chance, int degrees, double expected) =>
        Assert.Equal(expected, ChiSquare.Quantile(chance, degrees), expected * 1e-9);

    [Fact]
    public void Nothing_and_rounding_below_nothing_are_certain()
    {
        Assert.Equal(1, ChiSquare.UpperTail(0, 3));
        Assert.Equal(1, ChiSquare.UpperTail(-1e-12, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => ChiSquare.UpperTail(1, 0));
    }
}
