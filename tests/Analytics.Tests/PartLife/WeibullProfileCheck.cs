using MathNet.Numerics;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.PartLife;

/// <summary>
/// Holds the profile bounds of a fit against the slow reference: on a bound the reference's own profile must have fallen by exactly half
/// the chi-square quantile, half-way to it by less, and where a bound is open it must not have fallen so far at the limit of the search.
/// </summary>
internal static class WeibullProfileCheck
{
    private const double Z95 = 1.9599639845400545;
    private const double Age = 50;
    private const double Further = 30;
    private const double SignedRootTolerance = 1e-4;

    private static readonly double FactorLimit = Math.Log(1e6);
    private static readonly double LeastLogHazard = Math.Log(1e-12);
    private static readonly double GreatestLogHazard = Math.Log(-Math.Log(1e-12));

    public static void AssertBounds(ReferenceLife[] sample, FittedLife fit)
    {
        LifeBounds bounds = WeibullBounds.Of(fit, new WeibullBoundsOptions { FailedFractions = [0.10], SurvivalAges = [Age] });
        double top = PartLifeWeibullReference.Maximise(sample).Value;
        AssertFigure("shape", bounds.Shape, null);
        AssertFigure("scale", bounds.Scale, (q, _) => q);
        AssertFigure("B10", bounds.AgesWhenFailed[0].Age, (q, b) => q - (Math.Log(-Math.Log(0.9)) / Math.Exp(b)));
        AssertFigure("mean", bounds.MeanLife, (q, b) => q - SpecialFunctions.GammaLn(1 + Math.Exp(-b)));
        Estimate survival = bounds.SurvivalAtAges[0].Survival;
        AssertShare("survival", LogHazardOfSurvival(survival), (q, b) => Math.Log(Age) - (q / Math.Exp(b)));
        Estimate chance = WeibullBounds.FurtherFailure(fit, Age, Further);
        AssertShare("chance to fail", LogHazardOfChance(chance), FurtherLogScale);

        void AssertFigure(string name, Estimate e, Func<double, double, double>? logScaleFor)
        {
            double at = Math.Log(e.Value);
            AssertSide($"lower {name}", at, Log(e.Lower), at - FactorLimit, logScaleFor);
            AssertSide($"upper {name}", at, Log(e.Upper), at + FactorLimit, logScaleFor);
        }

        void AssertShare(string name, (double At, double? Lower, double? Upper) h, Func<double, double, double> logScaleFor)
        {
            AssertSide($"lower hazard of {name}", h.At, h.Lower, Math.Min(h.At - FactorLimit, LeastLogHazard), logScaleFor);
            AssertSide($"upper hazard of {name}", h.At, h.Upper, Math.Max(h.At + FactorLimit, GreatestLogHazard), logScaleFor);
        }

        void AssertSide(string name, double at, double? bound, double limit, Func<double, double, double>? logScaleFor)
        {
            // A hazard below 1e-13 leaves no digits in the survival from which it is read back here.
            if (double.IsInfinity(at) || at < LeastLogHazard || bound < LeastLogHazard || double.IsInfinity(bound ?? 0))
            {
                return;
            }

            double Root(double figure) => Math.Sqrt(Math.Max(0, 2 * (top - PartLifeWeibullReference.Profile(sample, figure, logScaleFor))));
            if (bound is not { } known)
            {
                Assert.True(Root(limit) < Z95 + SignedRootTolerance, FormattableString.Invariant($"{name} open, but excluded: {Root(limit)}"));
                return;
            }

            double there = Root(known), halfWay = Root((at + known) / 2);
            Assert.True(
                Math.Abs(there - Z95) < SignedRootTolerance && halfWay < Z95,
                FormattableString.Invariant($"{name}: {known:R} from {at:R}, root of the fall {there:R}, half-way {halfWay:R}"));
        }
    }

    private static double? Log(double? value) => value is { } known ? Math.Log(known) : null;

    private static (double At, double? Lower, double? Upper) LogHazardOfSurvival(Estimate e)
    {
        double? Of(double? survival) => survival is { } s ? Math.Log(-Math.Log(s)) : null;
        return (Of(e.Value)!.Value, Of(e.Upper), Of(e.Lower));
    }

    private static (double At, double? Lower, double? Upper) LogHazardOfChance(Estimate e)
    {
        double? Of(double? chance) => chance is { } c ? Math.Log(-Elementary.LogOnePlus(-c)) : null;
        return (Of(e.Value)!.Value, Of(e.Lower), Of(e.Upper));
    }

    /// <summary>Solves ((age + further)^k - age^k) / scale^k = H for ln scale.</summary>
    private static double FurtherLogScale(double logHazard, double logShape)
    {
        double k = Math.Exp(logShape);
        double top = (k * Math.Log(Age + Further)) + Elementary.LogOnePlus(-Math.Exp(k * Math.Log(Age / (Age + Further))));
        return (top - logHazard) / k;
    }
}
