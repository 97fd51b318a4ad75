namespace Washwear.Analytics.PartLife;

/// <summary>How a search for the maximum of the likelihood ended.</summary>
internal enum MaximumOutcome
{
    Found,
    RisesTowardsShapeZero,
    RisesTowardsSharpFailure,
    NotConverged,
}

/// <summary>Where the search ended; <see cref="At"/> holds the derivatives there.</summary>
internal sealed record Maximum(MaximumOutcome Outcome, double Offset, double Slope, Derivatives At);

/// <summary>
/// Maximises a Weibull likelihood by Newton's method with step control, in the coordinates in which it is concave (see
/// <see cref="WeibullLikelihood"/>), so that one start suffices; where both delayed entry and intervals occur, concavity is not
/// assured and the best of three starts is taken.
/// </summary>
internal static class WeibullMaximum
{
    /// <summary>Least shape searched: below it life is spread over more than twenty powers of ten and mean life means nothing.</summary>
    public const double SlopeFloor = 0.02;

    /// <summary>Greatest shape searched: above it all failures agree to about one part in a million.</summary>
    public const double SlopeCap = 1e6;

    private const int MaxIterations = 200;
    private const double SolvedDecrement = 1e-18;
    private const double AcceptedDecrement = 1e-12;
    private const double GreatestSlopeFactor = 4;

    public static Maximum Find(WeibullLikelihood likelihood)
    {
        double start = StartSlope(likelihood);
        if (!likelihood.HasEntries || likelihood.Lives.FailedBetweenLooks == 0)
        {
            return FindFrom(likelihood, start);
        }

        Maximum[] ends = [.. new[] { start, start / 4, start * 4 }.Select(s => FindFrom(likelihood, Clamp(s)))];
        return ends.OrderBy(e => e.Outcome == MaximumOutcome.Found ? 0 : 1).ThenByDescending(e => e.At.Value).First();
    }

    private static Maximum FindFrom(WeibullLikelihood likelihood, double slope)
    {
        bool hazardCoordinates = likelihood.HasEntries;
        (double offset, slope, Derivatives at) = Start(likelihood, slope);
        double decrement = double.PositiveInfinity;
        for (int i = 0; i < MaxIterations && double.IsFinite(at.Value); i++)
        {
            Step step = NewtonStep(at, slope, hazardCoordinates);
            double before = decrement;
            decrement = step.Decrement;
            if (decrement <= SolvedDecrement || (decrement < AcceptedDecrement && decrement > before / 4))
            {
                break;
            }

            (double nextOffset, double nextSlope, Derivatives next) = Advance(likelihood, at, offset, slope, step, hazardCoordinates);
            if (nextOffset == offset && nextSlope == slope)
            {
                break;
            }

            (offset, slope, at) = (nextOffset, nextSlope, next);
        }

        return new Maximum(Judge(slope, decrement), offset, slope, at);
    }

    /// <summary>Failures close together ask for a line so steep that older parts have no number: flatten it until they do.</summary>
    private static (double Offset, double Slope, Derivatives At) Start(WeibullLikelihood likelihood, double slope)
    {
        double offset = likelihood.OffsetFor(slope);
        Derivatives at = likelihood.At(offset, slope);
        while (!double.IsFinite(at.Value) && slope > SlopeFloor)
        {
            slope = Clamp(slope / 2);
            offset = likelihood.OffsetFor(slope);
            at = likelihood.At(offset, slope);
        }

        return (offset, slope, at);
    }

    private static MaximumOutcome Judge(double slope, double decrement)
    {
        if (!(decrement <= AcceptedDecrement))
        {
            return MaximumOutcome.NotConverged;
        }

        return slope <= SlopeFloor ? MaximumOutcome.RisesTowardsShapeZero
            : slope >= SlopeCap ? MaximumOutcome.RisesTowardsSharpFailure
            : MaximumOutcome.Found;
    }

    /// <summary>Halves the step until the likelihood rises as much as a part of the linear prediction says.</summary>
    private static (double Offset, double Slope, Derivatives At) Advance(
        WeibullLikelihood likelihood, Derivatives at, double offset, double slope, Step step, bool hazardCoordinates)
    {
        // Sums over a million lives carry rounding of this size; without the slack the last steps would be refused.
        double slack = 1e-12 * (1 + Math.Abs(at.Value));
        double length = LongestStep(slope, step.Slope);
        for (int halving = 0; halving < 60; halving++, length /= 2)
        {
            double nextSlope = Clamp(slope + (length * step.Slope));
            double nextOffset = hazardCoordinates
                ? offset + Math.Log(nextSlope / slope) - (length * step.First)
                : offset + (length * step.First);
            Derivatives next = likelihood.At(nextOffset, nextSlope);
            if (next.Value >= at.Value + (1e-4 * length * step.Decrement) - slack)
            {
                return (nextOffset, nextSlope, next);
            }
        }

        return (offset, slope, at);
    }

    private static double LongestStep(double slope, double change) => change > 0
        ? Math.Min(1, (GreatestSlopeFactor - 1) * slope / change)
        : change < 0 ? Math.Min(1, (1 - (1 / GreatestSlopeFactor)) * slope / -change) : 1;

    private static Step NewtonStep(Derivatives at, double slope, bool hazardCoordinates)
    {
        // Coordinates (ln slope - offset, slope) where lives enter late, (offset, slope) elsewhere.
        double g1 = hazardCoordinates ? -at.Offset : at.Offset;
        double g2 = hazardCoordinates ? at.Slope + (at.Offset / slope) : at.Slope;
        double h11 = at.OffsetOffset;
        double h12 = hazardCoordinates ? -(at.OffsetOffset / slope) - at.OffsetSlope : at.OffsetSlope;
        double h22 = hazardCoordinates
            ? at.SlopeSlope + (2 * at.OffsetSlope / slope) + ((at.OffsetOffset - at.Offset) / (slope * slope))
            : at.SlopeSlope;
        (h11, h22) = MakeConcave(h11, h12, h22);
        double determinant = (h11 * h22) - (h12 * h12);
        double first = ((h12 * g2) - (h22 * g1)) / determinant;
        double second = ((h12 * g1) - (h11 * g2)) / determinant;
        bool pinned = (slope <= SlopeFloor && second < 0) || (slope >= SlopeCap && second > 0);
        return pinned
            ? new Step(-g1 / h11, 0, g1 * g1 / -h11)
            : new Step(first, second, (g1 * first) + (g2 * second));
    }

    /// <summary>Shifts the second derivatives until both eigenvalues are below 0, so that the step always leads uphill.</summary>
    private static (double H11, double H22) MakeConcave(double h11, double h12, double h22)
    {
        double middle = (h11 + h22) / 2;
        double half = Math.Sqrt((((h11 - h22) / 2) * ((h11 - h22) / 2)) + (h12 * h12));
        double largest = middle + half;
        double determinant = (h11 * h22) - (h12 * h12);
        if (h11 < 0 && determinant > 0)
        {
            return (h11, h22);
        }

        double shift = largest + (1e-3 * (1 + Math.Abs(middle) + half));
        return (h11 - shift, h22 - shift);
    }

    /// <summary>The sd of ln t under a Weibull curve is pi/(sqrt 6 x shape); good to a factor of two, which is all a start needs.</summary>
    private static double StartSlope(WeibullLikelihood likelihood)
    {
        double deviation = likelihood.DeviationOfFailures;
        return deviation > 0 ? Clamp(Math.PI / (Math.Sqrt(6) * deviation)) : 2;
    }

    private static double Clamp(double slope) => Math.Clamp(slope, SlopeFloor, SlopeCap);

    /// <summary>A Newton step in the concave coordinates and the rise of the likelihood it predicts, doubled.</summary>
    private readonly record struct Step(double First, double Slope, double Decrement);
}
