namespace Washwear.Analytics.PartLife;

/// <summary>
/// Profile-likelihood bounds: the values of a figure at which the greatest log-likelihood that still gives this value has fallen by half
/// the chi-square quantile with one degree of freedom (Meeker and Escobar 1998, 8.3.3). Found by Newton's method on the signed root
/// of that fall, which is nearly straight, inside a bracket; each step starts from the last one's solution, so nothing is refitted.
/// </summary>
internal static class WeibullProfile
{
    private const double LeastSlope = 1e-3;
    private const double GreatestSlope = 1e8;
    private const double InnerDecrement = 1e-10;
    private const double LastOuterStep = 1e-6;
    private const int MaxOuterSteps = 80;
    private const int MaxInnerSteps = 100;

    /// <summary>Both bounds on the quantity's own scale; null where open.</summary>
    public static (double? Lower, double? Upper) Bounds(FittedLife fit, WeibullQuantity quantity, double z) =>
        (Side(fit, quantity, z, -1), Side(fit, quantity, z, 1));

    /// <summary>Best offset at a given slope; null where the likelihood rises without end.</summary>
    public static CurvePoint? BestOffset(WeibullLikelihood likelihood, double slope)
    {
        var shape = new ShapeQuantity();
        Ridge best = Climb(likelihood, shape, Math.Log(slope), likelihood.OffsetFor(slope));
        return best.Solved && double.IsFinite(best.At.Value) && best.At.OffsetOffset < 0 ? best.Point : null;
    }

    private static double? Side(FittedLife fit, WeibullQuantity quantity, double z, int sign)
    {
        Maximum top = fit.Maximum;
        double estimate = quantity.At(top.Offset, top.Slope);
        (double byOffset, double bySlope) = quantity.Gradient(top.Offset, top.Slope);
        (double covOffset, double covSlope) = fit.CovarianceWith(byOffset, bySlope);
        double variance = (byOffset * covOffset) + (bySlope * covSlope);
        double error = Math.Sqrt(variance);
        double limit = quantity.Furthest(estimate, sign);
        var search = new Bracket(estimate, sign, Math.Min(z * error, limit));

        // Along the ridge the free parameter moves by its regression on the figure; good where the likelihood is nearly quadratic.
        double inner = quantity.InnerIsOffset ? top.Offset : top.Slope;
        double start = inner + ((quantity.InnerIsOffset ? covOffset : covSlope) / variance * (search.At - estimate));
        Ridge last = default;
        for (int i = 0; i < MaxOuterSteps; i++)
        {
            Ridge ridge = Climb(fit.Likelihood, quantity, search.At, i == 0 ? start : last.Predict(search.Previous, search.At));
            double fall = Math.Sqrt(Math.Max(0, 2 * (top.At.Value - ridge.At.Value))) - z;
            if (fall < 0 && search.Distance >= limit)
            {
                return null;
            }

            double step = search.Advance(fall, -ridge.Rise / (fall + z), limit);
            last = ridge with { Before = last.Inner, HasBefore = i > 0 };
            if (Math.Abs(step) < LastOuterStep)
            {
                return search.At;
            }
        }

        return search.At;
    }

    /// <summary>Greatest likelihood on the curve where the quantity equals the target, by safeguarded Newton along the curve.</summary>
    private static Ridge Climb(WeibullLikelihood likelihood, WeibullQuantity quantity, double target, double inner)
    {
        inner = Start(likelihood, quantity, target, inner);
        CurvePoint point = quantity.Curve(target, inner);
        Derivatives at = likelihood.At(point.Offset, point.Slope);
        for (int i = 0; i < MaxInnerSteps; i++)
        {
            (double gradient, double curvature) = Along(point, at);
            double step = Limit(quantity, inner, curvature < 0 ? -gradient / curvature : Math.Sign(gradient) * (1 + Math.Abs(inner)));
            if (!double.IsFinite(step) || Math.Abs(gradient * step) <= InnerDecrement)
            {
                return new Ridge(inner, point, at, Rise(point, at), double.IsFinite(step));
            }

            double slack = 1e-13 * (1 + Math.Abs(at.Value));
            bool moved = false;
            for (int halving = 0; halving < 50 && !moved; halving++, step /= 2)
            {
                CurvePoint nextPoint = quantity.Curve(target, inner + step);
                Derivatives next = likelihood.At(nextPoint.Offset, nextPoint.Slope);
                if (next.Value >= at.Value + (1e-4 * gradient * step) - slack)
                {
                    (inner, point, at, moved) = (inner + step, nextPoint, next, true);
                }
            }

            if (!moved)
            {
                break;
            }
        }

        return new Ridge(inner, point, at, Rise(point, at), false);
    }

    /// <summary>A start at which the likelihood can be computed: a flatter line makes every hazard moderate.</summary>
    private static double Start(WeibullLikelihood likelihood, WeibullQuantity quantity, double target, double inner)
    {
        if (quantity.InnerIsOffset)
        {
            CurvePoint given = quantity.Curve(target, inner);
            return likelihood.At(given.Offset, given.Slope).Value > double.NegativeInfinity ? inner : likelihood.OffsetFor(given.Slope);
        }

        inner = Math.Clamp(inner, LeastSlope, GreatestSlope);
        while (inner > LeastSlope)
        {
            CurvePoint point = quantity.Curve(target, inner);
            if (likelihood.At(point.Offset, point.Slope).Value > double.NegativeInfinity)
            {
                break;
            }

            inner = Math.Max(LeastSlope, inner / 2);
        }

        return inner;
    }

    private static double Limit(WeibullQuantity quantity, double inner, double step) => quantity.InnerIsOffset
        ? step
        : Math.Clamp(inner + Math.Clamp(step, -0.75 * inner, 3 * inner), LeastSlope, GreatestSlope) - inner;

    private static (double Gradient, double Curvature) Along(CurvePoint p, Derivatives d) => (
        (d.Offset * p.OffsetByInner) + (d.Slope * p.SlopeByInner),
        (d.OffsetOffset * p.OffsetByInner * p.OffsetByInner) + (2 * d.OffsetSlope * p.OffsetByInner * p.SlopeByInner)
            + (d.SlopeSlope * p.SlopeByInner * p.SlopeByInner) + (d.Offset * p.OffsetByInner2));

    /// <summary>Derivative of the profile log-likelihood by the target: at the top of the curve only the direct effect counts.</summary>
    private static double Rise(CurvePoint p, Derivatives d) => (d.Offset * p.OffsetByTarget) + (d.Slope * p.SlopeByTarget);

    /// <summary>Top of one curve, with the free parameter's value on the curve before for a straight-line prediction of the next.</summary>
    private readonly record struct Ridge(double Inner, CurvePoint Point, Derivatives At, double Rise, bool Solved)
    {
        public double Before { get; init; }

        public bool HasBefore { get; init; }

        public double Predict((double From, double To) previous, double next) => HasBefore && previous.To != previous.From
            ? Inner + ((Inner - Before) / (previous.To - previous.From) * (next - previous.To))
            : Inner;
    }

    /// <summary>Where the search for one bound stands: known to be inside up to one value, outside from another on.</summary>
    private sealed class Bracket(double estimate, int sign, double firstDistance)
    {
        private double _inside;
        private double _outside = double.PositiveInfinity;
        public double At => estimate + (sign * Distance);

        /// <summary>How far the trial point lies from the estimate; kept apart, as the difference of the two would be rounded.</summary>
        public double Distance { get; private set; } = firstDistance;

        /// <summary>The two latest points, so that the ridge can be extended in a straight line.</summary>
        public (double From, double To) Previous { get; private set; } = (estimate, estimate + (sign * firstDistance));

        /// <summary>Moves to the next trial point and returns the size of the move.</summary>
        public double Advance(double fall, double fallByTarget, double limit)
        {
            if (fall <= 0)
            {
                _inside = Distance;
            }
            else
            {
                _outside = Distance;
            }

            double newton = Distance - (fall / (sign * fallByTarget));
            double furthest = Math.Min(limit, Math.Max(2 * Distance, Distance + 0.1));
            double next = double.IsFinite(_outside)
                ? newton > _inside && newton < _outside ? newton : (_inside + _outside) / 2
                : newton > _inside && newton <= furthest ? newton : furthest;
            double moved = next - Distance;
            Previous = (Previous.To, estimate + (sign * Distance));
            Distance = next;
            return moved;
        }
    }
}
