using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Tests.Numerics;

public sealed class ElementaryTests
{
    /// <summary>Abramowitz and Stegun (1964), tables 4.4: e^-0.3 = 0.740818220681717866, e^0.01 = 1.010050167084168058.</summary>
    [Theory]
    [InlineData(-0.3, -0.259181779318282134)]
    [InlineData(0.01, 0.010050167084168058)]
    [InlineData(1e-20, 1e-20)]
    [InlineData(-800, -1)]
    [InlineData(0, 0)]
    public void Exp_minus_one_keeps_its_digits(double x, double expected) =>
        Assert.Equal(expected, Elementary.ExpMinusOne(x), Math.Abs(expected) * 1e-15);

    /// <summary>Abramowitz and Stegun (1964), table 4.2: ln 1.1 = 0.0953101798043248600, ln 0.9 = -0.1053605156578263012.</summary>
    [Theory]
    [InlineData(0.1, 0.0953101798043248600)]
    [InlineData(-0.1, -0.1053605156578263012)]
    [InlineData(-1e-20, -1e-20)]
    [InlineData(0, 0)]
    public void Log_of_one_plus_keeps_its_digits(double x, double expected) =>
        Assert.Equal(expected, Elementary.LogOnePlus(x), Math.Abs(expected) * 1e-15);

    [Fact]
    public void Each_undoes_the_other_over_all_sizes()
    {
        for (int power = -300; power <= 2; power++)
        {
            double x = Math.Pow(10, power);
            Assert.Equal(x, Elementary.LogOnePlus(Elementary.ExpMinusOne(x)), x * 1e-14);
        }

        Assert.Equal(double.PositiveInfinity, Elementary.ExpMinusOne(1000));
        Assert.Equal(double.NegativeInfinity, Elementary.LogOnePlus(-1));
    }
}
