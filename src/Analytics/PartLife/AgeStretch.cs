using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>
/// A stretch of age by the centred ln of its end and ln(end/start), which is taken from the ages themselves: the difference of the two
/// logarithms would have no digits left where start and end are a hair apart.
/// </summary>
/// <param name="LogEnd">Centred ln of the end.</param>
/// <param name="LogWidth">ln(end/start), above 0; infinite for a start at 0.</param>
internal readonly record struct AgeStretch(double LogEnd, double LogWidth)
{
    /// <summary>The stretch between two ages, 0 &lt;= start &lt; end, its end not yet centred.</summary>
    public static AgeStretch Between(double start, double end) =>
        new(Math.Log(end), start == 0 ? double.PositiveInfinity : -Elementary.LogOnePlus((start - end) / end));

    /// <summary>The hazard gathered over the stretch and how it moves with the slope.</summary>
    public StretchHazard HazardAt(double offset, double slope)
    {
        double gap = -Elementary.ExpMinusOne(-slope * LogWidth);
        double further = double.IsInfinity(LogWidth) ? 0 : LogWidth / Elementary.ExpMinusOne(slope * LogWidth);
        double spread = further == 0 ? 0 : further * (LogWidth + further);
        double logHazard = (slope * LogEnd) - offset + Math.Log(gap);
        return new StretchHazard(Math.Exp(logHazard), logHazard, LogEnd + further, spread);
    }
}

/// <summary>
/// Hazard D gathered over a stretch: D = H(end) - H(start), its logarithm, (dD/dslope)/D = Mean, and (d2D/dslope2)/D = Mean^2 - Spread,
/// written without differences of near-equal numbers: Mean = ln end + w/(e^(kw) - 1) and Spread = g (w + g), g that quotient, w the ln of
/// end/start, k the slope.
/// </summary>
internal readonly record struct StretchHazard(double D, double LogD, double Mean, double Spread)
{
    private const double SmallHazard = 1e-8;
    private const double LargeHazard = 700;

    /// <summary>Contribution -D of a part that works throughout the stretch.</summary>
    public Derivatives Survived => new(-D, D, -D * Mean, -D, D * Mean, -D * ((Mean * Mean) - Spread));

    /// <summary>
    /// Contribution ln(1 - e^-D) of a part that fails within the stretch, with r = D/(e^D - 1), so that nothing overflows or cancels when
    /// D is tiny or huge.
    /// </summary>
    public Derivatives Failed
    {
        get
        {
            double r = D > LargeHazard ? 0 : D < SmallHazard ? 1 - (D / 2) : D / Elementary.ExpMinusOne(D);

            // r - r (r + D), the derivative of r by ln D; near D = 0 it is -D/2.
            double bend = D > LargeHazard ? 0 : D < SmallHazard ? -D / 2 : r * (1 - r - D);
            double logFailed = D < SmallHazard ? LogD - (D / 2)
                : D < 0.7 ? Math.Log(-Elementary.ExpMinusOne(-D)) : Elementary.LogOnePlus(-Math.Exp(-D));
            return new Derivatives(
                logFailed,
                -r,
                r * Mean,
                bend,
                -bend * Mean,
                (bend * Mean * Mean) - (r * Spread));
        }
    }
}
