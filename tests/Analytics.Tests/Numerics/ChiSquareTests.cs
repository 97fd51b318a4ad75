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

    [Fact]
    public void Nothing_and_rounding_below_nothing_are_certain()
    {
        Assert.Equal(1, ChiSquare.UpperTail(0, 3));
        Assert.Equal(1, ChiSquare.UpperTail(-1e-12, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => ChiSquare.UpperTail(1, 0));
    }
}
