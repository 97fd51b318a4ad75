namespace Washwear.Analytics.PartLife;

/// <summary>Lives that share a scale, up to a known factor each: their scale is the block's scale times e^<c>LogFactor</c>.</summary>
internal sealed record ScaleBlock(IReadOnlyList<(WeibullLikelihood Likelihood, double LogFactor)> Members)
{
    public int Failures => Members.Sum(m => m.Likelihood.Lives.Failures);
}

/// <summary>Maximum over one shape and a scale for each block; ln scales are those of the blocks, null where nothing failed.</summary>
internal sealed record SharedShapeMaximum(double LogLikelihood, double Shape, IReadOnlyList<double?> LogScales);

/// <summary>
/// Weibull curves that share one shape. For a given shape each block's scale is found on its own, and Newton's method climbs the
/// profile so obtained, whose first derivative is the sum of the blocks' and whose second is h_ss - h_os^2/h_oo summed. A block in
/// which nothing failed adds nothing: its likelihood is greatest, 1, at an infinite scale.
/// </summary>
internal static class SharedShape
{
    private const int MaxSteps = 100;
    private const double SolvedDecrement = 1e-16;
    // A squared distance to the top in standard errors at which rounding, where large hazards cancel, may end the search.
    private const double AcceptedDecrement = 1e-7;

    // Where some intervals are sure to fail and the rest are sure not to, the likelihood is a straight line and Newton's step has no end.
    private const double LongestStep = 8;

    /// <summary>The maximum, or null when there is none with a shape in the range searched.</summary>
    public static SharedShapeMaximum? Maximise(IReadOnlyList<ScaleBlock> blocks, double startShape)
    {
        ScaleBlock[] failed = [.. blocks.Where(b => b.Failures > 0)];
        double shape = startShape;
        Profile at = Total(failed, shape);
        while (!double.IsFinite(at.Value) && shape > WeibullMaximum.SlopeFloor)
        {
            shape = Math.Max(WeibullMaximum.SlopeFloor, shape / 2);
            at = Total(failed, shape);
        }

        double decrement = double.PositiveInfinity;
        for (int i = 0; i < MaxSteps && double.IsFinite(at.Value); i++)
        {
            double step = Math.Clamp(
                at.Curvature < 0 ? -at.Gradient / at.Curvature : Math.Sign(at.Gradient) * shape, -0.75 * shape, 3 * shape);
            double before = decrement;
            decrement = Math.Abs(at.Gradient * step);
            if (Settled(decrement, before) || !Advance(failed, ref shape, ref at, step))
            {
                break;
            }
        }

        bool inside = shape > WeibullMaximum.SlopeFloor && shape < WeibullMaximum.SlopeCap;
        return inside && decrement <= AcceptedDecrement && at.Curvature < 0
            ? new SharedShapeMaximum(at.Value, shape, [.. blocks.Select(b => b.Failures == 0 ? (double?)null : Of(b, shape).LogScale)])
            : null;
    }

    /// <summary>Solved, or as near as rounding allows: steps that no longer shrink would only wander.</summary>
    private static bool Settled(double decrement, double before) =>
        decrement <= SolvedDecrement || (decrement <= AcceptedDecrement && decrement > before / 4);

    private static bool Advance(ScaleBlock[] blocks, ref double shape, ref Profile at, double step)
    {
        double slack = 1e-12 * (1 + Math.Abs(at.Value));
        for (int halving = 0; halving < 50; halving++, step /= 2)
        {
            double next = Math.Clamp(shape + step, WeibullMaximum.SlopeFloor, WeibullMaximum.SlopeCap);
            Profile there = Total(blocks, next);
            if (next != shape && there.Value >= at.Value + (1e-4 * at.Gradient * (next - shape)) - slack)
            {
                (shape, at) = (next, there);
                return true;
            }
        }

        return false;
    }

    private static Profile Total(ScaleBlock[] blocks, double shape)
    {
        Profile[] each = [.. blocks.Select(b => Of(b, shape))];
        return new Profile(each.Sum(p => p.Value), each.Sum(p => p.Gradient), each.Sum(p => p.Curvature), 0);
    }

    /// <summary>The block's best scale at a shape: Newton in the offset, in which the likelihood is concave at a fixed shape.</summary>
    private static Profile Of(ScaleBlock block, double shape)
    {
        double offset = Start(block, shape);
        Derivatives at = At(block, offset, shape);
        double decrement = double.PositiveInfinity;
        for (int i = 0; i < MaxSteps && double.IsFinite(at.Value); i++)
        {
            double longest = Math.Max(LongestStep, Math.Abs(offset) / 2);
            double step = Math.Clamp(OffsetStep(at, block.Failures), -longest, longest);
            double before = decrement;
            decrement = Math.Abs(step * at.Offset);
            if (!double.IsFinite(step) || Settled(decrement, before))
            {
                break;
            }

            double from = offset;
            for (int halving = 0; halving < 50 && offset == from; halving++, step /= 2)
            {
                Derivatives next = At(block, from + step, shape);
                if (next.Value >= at.Value - (1e-13 * (1 + Math.Abs(at.Value))))
                {
                    (offset, at) = (from + step, next);
                }
            }

            if (offset == from)
            {
                break;
            }
        }

        double curvature = at.SlopeSlope - (at.OffsetSlope * at.OffsetSlope / at.OffsetOffset);
        return new Profile(at.Value, at.Slope, curvature, offset / shape);
    }

    /// <summary>
    /// Newton's step for ln E(offset) = ln failures, E the failures that the curve expects: exact in one step where failures have exact ages,
    /// and without the endless steps of the plain form where next to no hazard is left. There E is as good as its own derivative.
    /// </summary>
    private static double OffsetStep(Derivatives at, int failures)
    {
        double expected = Math.Max(at.Offset + failures, -at.OffsetOffset);
        return expected > 0 ? Math.Log(expected / failures) * expected / Math.Abs(at.OffsetOffset) : double.NegativeInfinity;
    }

    private static double Start(ScaleBlock block, double shape)
    {
        double[] logs = [.. block.Members.Select(m => m.Likelihood.LogHazardAtZeroOffset(shape) - (shape * Shift(m)))];
        double greatest = logs.Max();
        return greatest + Math.Log(logs.Sum(l => Math.Exp(l - greatest)) / block.Failures);
    }

    /// <summary>Sum over members, each at its own offset = block offset + shape x shift; derivatives by block offset and shape.</summary>
    private static Derivatives At(ScaleBlock block, double offset, double shape)
    {
        Derivatives sum = default;
        foreach ((WeibullLikelihood Likelihood, double LogFactor) member in block.Members)
        {
            double shift = Shift(member);
            Derivatives d = member.Likelihood.At(offset + (shape * shift), shape);
            sum += new Derivatives(
                d.Value,
                d.Offset,
                d.Slope + (shift * d.Offset),
                d.OffsetOffset,
                d.OffsetSlope + (shift * d.OffsetOffset),
                d.SlopeSlope + (2 * shift * d.OffsetSlope) + (shift * shift * d.OffsetOffset));
        }

        return sum;
    }

    private static double Shift((WeibullLikelihood Likelihood, double LogFactor) member) => member.LogFactor - member.Likelihood.Centre;

    private readonly record struct Profile(double Value, double Gradient, double Curvature, double LogScale);
}
