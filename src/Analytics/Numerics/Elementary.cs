namespace Washwear.Analytics.Numerics;

/// <summary>
/// e^x - 1 and ln(1 + x) without loss of digits for small x, by the quotient that cancels the rounding of the plain form (Kahan, as told
/// in Higham 2002, Accuracy and Stability of Numerical Algorithms, 1.14.1). MathNet's own Expm1 is off by 8e-8 at x = -0.3.
/// </summary>
public static class Elementary
{
    /// <summary>e^x - 1, to a few units in the last place; -1 at negative and positive infinity at positive infinity.</summary>
    /// <param name="x">Any number.</param>
    public static double ExpMinusOne(double x)
    {
        double power = Math.Exp(x);
        if (power == 1)
        {
            return x;
        }

        double difference = power - 1;
        return difference == -1 || double.IsInfinity(power) ? difference : difference * x / Math.Log(power);
    }

    /// <summary>ln(1 + x), to a few units in the last place; negative infinity at -1.</summary>
    /// <param name="x">Number, -1 or more.</param>
    public static double LogOnePlus(double x)
    {
        double sum = 1 + x;
        return sum == 1 ? x : double.IsInfinity(sum) ? sum : Math.Log(sum) * (x / (sum - 1));
    }
}
