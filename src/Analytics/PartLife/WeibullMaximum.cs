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

    /// <summary>Above this shape failures lie within a thousandth of their age, and rounding may keep the search from settling.</summary>
    private const double SharpSlope = 1e3;

    private const int MaxIterations = 200;
    private const double SolvedDecrement = 1e-18;

    // A squared distance to the top in standard errors: rounding of large hazards that cancel may stop the search short of the aim above.
    private const double AcceptedDecrement = 1e-9;
    private const double GreatestSlopeFactor = 4;

    // Relative to the curvature of a coordinate: on a flatter ridge the step's length is left to the step control.
    private const double LeastCurvature = 1e-6;

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
        (double offset, slope, Derivatives at) = Start(likelihood, slope);
        double decrement = double.PositiveInfinity;
        for (int i = 0; i < MaxIterations && double.IsFinite(at.Value); i++)
        {
            Step step = NewtonStep(at, slope, likelihood.HasEntries);
            double before = decrement;
            decrement = step.Decrement;
            if (decrement <= SolvedDecrement || (decrement < AcceptedDecrement && decrement > before / 4))
            {
                break;
            }

            (double nextOffset, double nextSlope, Derivatives next) = Advance(likelihood, at, offset, slope, step);
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
            return slope > SharpSlope ? MaximumOutcome.RisesTowardsSharpFailure : MaximumOutcome.NotConverged;
        }

        return slope <= SlopeFloor ? MaximumOutcome.RisesTowardsShapeZero
            : slope >= SlopeCap ? MaximumOutcome.RisesTowardsSharpFailure
            : MaximumOutcome.Found;
    }

    /// <summary>Halves the step until the likelihood rises as much as a part of the linear prediction says.</summary>
    private static (double Offset, double Slope, Derivatives At) Advance(
        WeibullLikelihood likelihood, Derivatives at, double offset, double slope, Step step)
    {
        // Sums over a million lives carry rounding of this size; without the slack the last steps would be refused.
        double slack = 1e-12 * (1 + Math.Abs(at.Value));
        double length = LongestStep(slope, step.Slope);
        for (int halving = 0; halving < 60; halving++, length /= 2)
        {
            double nextSlope = Clamp(slope + (length * step.Slope));
            double nextOffset = step.HazardCoordinates
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

    /// <summary>
    /// The Newton step in (offset, slope), or where lives enter late in whichever of the two coordinates promises the greater rise: near
    /// the top both promise the same, far from it one of them may creep.
    /// </summary>
    private static Step NewtonStep(Derivatives at, double slope, bool hasEntries)
    {
        Step line = Solve(new Quadratic(at.Offset, at.Slope, at.OffsetOffset, at.OffsetSlope, at.SlopeSlope), slope, false);
        if (!hasEntries)
        {
            return line;
        }

        Quadratic byHazard = new(
            -at.Offset,
            at.Slope + (at.Offset / slope),
            at.OffsetOffset,
            -(at.OffsetOffset / slope) - at.OffsetSlope,
            at.SlopeSlope + (2 * at.OffsetSlope / slope) + ((at.OffsetOffset - at.Offset) / (slope * slope)));
        Step hazard = Solve(byHazard, slope, true);
        return line.Decrement > hazard.Decrement ? line : hazard;
    }

    private static Step Solve(Quadratic given, double slope, bool hazardCoordinates)
    {
        Quadratic model = given.IsConcave ? given : given.MadeConcave;
        double determinant = (model.H11 * model.H22) - (model.H12 * model.H12);
        double first = ((model.H12 * model.G2) - (model.H22 * model.G1)) / determinant;
        double second = ((model.H12 * model.G1) - (model.H11 * model.G2)) / determinant;
        bool pinned = (slope <= SlopeFloor && second < 0) || (slope >= SlopeCap && second > 0);
        return pinned
            ? new Step(-model.G1 / model.H11, 0, model.G1 * model.G1 / -model.H11, hazardCoordinates)
            : new Step(first, second, (model.G1 * first) + (model.G2 * second), hazardCoordinates);
    }

    /// <summary>The sd of ln t under a Weibull curve is pi/(sqrt 6 x shape); good to a factor of two, which is all a start needs.</summary>
    private static double StartSlope(WeibullLikelihood likelihood)
    {
        double deviation = likelihood.DeviationOfFailures;
        return deviation > 0 ? Clamp(Math.PI / (Math.Sqrt(6) * deviation)) : 2;
    }

    private static double Clamp(double slope) => Math.Clamp(slope, SlopeFloor, SlopeCap);

    /// <summary>A Newton step, the rise of the likelihood it predicts, doubled, and its coordinates.</summary>
    private readonly record struct Step(double First, double Slope, double Decrement, bool HazardCoordinates);

    /// <summary>Gradient and second derivatives in coordinates (offset, slope) or (ln slope - offset, slope).</summary>
    private readonly record struct Quadratic(double G1, double G2, double H11, double H12, double H22)
    {
        public bool IsConcave => H11 < 0 && (H11 * H22) - (H12 * H12) > 0;

        /// <summary>
        /// The same with every curvature turned downwards along its principal axes, each coordinate first scaled by its own curvature:
        /// always leads uphill, whatever their units, and along a ridge that lies across the coordinates instead of from side to side of it.
        /// </summary>
        public Quadratic MadeConcave
        {
            get
            {
                (double s1, double s2) = (Math.Sqrt(Math.Abs(H11)), Math.Sqrt(Math.Abs(H22)));
                double cross = H12 / (s1 * s2);
                if (!double.IsFinite(cross))
                {
                    return new(G1, G2, -Math.Abs(H11) - double.Epsilon, 0, -Math.Abs(H22) - double.Epsilon);
                }

                (double a, double b) = (Math.Sign(H11), Math.Sign(H22));
                double half = (a - b) / 2;
                double radius = Math.Sqrt((half * half) + (cross * cross));
                double angle = Math.Atan2(cross, half) / 2;
                (double cos, double sin) = (Math.Cos(angle), Math.Sin(angle));
                double first = -Math.Max(Math.Abs(((a + b) / 2) + radius), LeastCurvature);
                double second = -Math.Max(Math.Abs(((a + b) / 2) - radius), LeastCurvature);
                return new(
                    G1,
                    G2,
                    s1 * s1 * ((first * cos * cos) + (second * sin * sin)),
                    s1 * s2 * (first - second) * cos * sin,
                    s2 * s2 * ((first * sin * sin) + (second * cos * cos)));
            }
        }
    }
}
