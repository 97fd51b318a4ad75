using CsCheck;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

/// <summary>
/// Anything that the door lets in must come out as a finite result: ages over twelve powers of ten, ties, samples that are all
/// censored, all late, all between looks, or a single life.
/// </summary>
public sealed class PartLifeFuzzTests
{
    private sealed record AnyLife(int Kind, double Age, double EntryShare, double GapShare);

    private static readonly Gen<AnyLife[]> AnySample =
        from tied in Gen.Bool
        from kinds in Gen.Int[1, 15]
        from spread in Gen.OneOf(Gen.Const(0.0), Gen.Const(0.001), Gen.Const(1.0), Gen.Const(6.0))
        from late in Gen.OneOf(Gen.Const(0.0), Gen.Const(0.3), Gen.Const(1.0))
        from lives in (
            from kind in Gen.Int[0, 3].Where(k => (kinds & (1 << k)) != 0)
            from power in Gen.Double[-1, 1]
            from isLate in Gen.Double[0, 1]
            from share in Gen.Double[0, 0.999]
            from gap in Gen.Double[1e-6, 1]
            select new AnyLife(kind, Tie(Math.Pow(10, power * spread), tied), isLate < late ? share : 0, gap)).Array[0, 30]
        select lives;

    [Fact]
    public void No_valid_lives_hang_throw_or_give_NaN() => Drawn.Each(
        AnySample,
        10_000,
        sample =>
        {
            Lives lives = Build(sample);
            AssertFinite(KaplanMeier.Estimate(lives));
            AssertFinite(FixedShapeFit.Fit(lives, 1.7));
            foreach (int minimum in new[] { 2, 3 })
            {
                AssertFinite(WeibullFit.Fit(lives, new WeibullFitOptions { MinimumFailures = minimum, ShapeIfTooFew = new GivenShape(2, ShapeSource.Assumed) }));
            }
        });

    [Fact]
    public void Comparisons_and_checks_never_hang_throw_or_give_NaN() => Drawn.Each(
        Gen.Select(AnySample, AnySample, AnySample),
        1500,
        drawn =>
        {
            Lives[] lives = [Build(drawn.Item1), Build(drawn.Item2), Build(drawn.Item3)];
            LifeGroup[] groups = [.. lives.Select((l, i) => new LifeGroup($"g{i}", l))];
            AssertChance(LogRank.Compare(groups).PValue);
            GroupComparisonResult compared = GroupComparison.Compare(groups);
            AssertChance(compared.EqualScale?.PValue, compared.EqualShape?.PValue, compared.EqualShapeAndScale?.PValue);
            Assert.All(compared.Comparisons, p => AssertChance(p.PValue, p.AdjustedPValue));
            Assert.All(compared.Comparisons.Where(p => p.ScaleRatio is not null), p => AssertOrdered(p.ScaleRatio!));
            AssertFinite(MedianRanks.Plot(lives[0]));
            AssertFinite(CompetingRisks.Incidence(lives[0]));
            if (WeibullFit.Fit(lives[0]) is FittedLife fit)
            {
                AssertChance(GoodnessOfFit.Test(fit).PValue, PlotBend.Test(fit).PValue);
            }
        });

    private static void AssertChance(params double?[] chances) =>
        Assert.All(chances, c => Assert.True(c is null or (>= 0 and <= 1), $"{c}"));

    private static void AssertFinite(ProbabilityPlot plot)
    {
        Assert.All(plot.Points, p => Assert.InRange(p.FailedShare, double.Epsilon, 1 - 1e-16));
        Assert.Equal(plot.AgeOnRank is null, plot.RSquared is null && plot.RankOnAge is null);
    }

    private static void AssertFinite(IncidenceResult result)
    {
        for (int i = 0; i < result.Survival.Count; i++)
        {
            Assert.Equal(1, result.Survival[i] + result.Modes.Sum(m => m.Steps[i].Incidence), 1e-9);
            Assert.All(result.Modes, m => Assert.True(double.IsFinite(m.Steps[i].StandardError)));
        }
    }

    private static double Tie(double age, bool tied)
    {
        int power = Math.ILogB(age);
        return tied ? Math.ScaleB(Math.Round(Math.ScaleB(age, -power) * 4) / 4, power) : age;
    }

    private static Lives Build(AnyLife[] sample)
    {
        var builder = new LivesBuilder("days");
        foreach (AnyLife life in sample)
        {
            double entry = life.Age * life.EntryShare;
            _ = life.Kind switch
            {
                0 => builder.FailedAt(life.Age, entry, life.GapShare < 0.4 ? "seal" : life.GapShare < 0.8 ? "motor" : null),
                1 => builder.StillRunningAt(life.Age, entry),
                2 => builder.FailedBetween(life.Age * (1 - life.GapShare), life.Age, entry),
                _ => builder.SwappedEarlyAt(life.Age, entry),
            };
        }

        return builder.Build();
    }

    private static void AssertFinite(SurvivalCurve curve)
    {
        foreach (KaplanMeierStep step in curve.Steps)
        {
            Assert.InRange(step.Survival, 0, 1);
            Assert.True(step.AtRisk >= step.Failures);
            Assert.True(double.IsFinite(step.NelsonAalen + step.NelsonAalenStandardError + (step.StandardError ?? 0)));
            AssertOrdered(new Estimate(step.Survival, step.Lower, step.Upper, 0.95, ""));
        }
    }

    private static void AssertFinite(LifeResult result)
    {
        switch (result)
        {
            case NotEnough notEnough:
                Assert.NotEmpty(notEnough.Message);
                Assert.NotEqual(NoFitRule.NotConverged, notEnough.Rule);
                break;
            case FixedShapeLife given:
                Assert.True(double.IsFinite(given.ScaleLower) && given.ScaleLower > 0 && !(given.Scale < given.ScaleLower * 0.01));
                break;
            case FittedLife fit:
                AssertBounds(WeibullBounds.Of(fit, new WeibullBoundsOptions { SurvivalAges = [1e-3, 1, 1e3] }));
                AssertBounds(WeibullBounds.Of(
                    fit, new WeibullBoundsOptions { Method = BoundsMethod.ObservedInformation, SurvivalAges = [1] }));
                Assert.True(double.IsFinite(
                    fit.LogLikelihood + fit.Aic + fit.VarianceOfLogScale + fit.CovarianceOfLogs + fit.VarianceOfLogShape));
                break;
            default:
                Assert.Fail($"Unexpected {result}");
                break;
        }
    }

    private static void AssertBounds(LifeBounds bounds)
    {
        AssertOrdered(bounds.Shape);
        AssertOrdered(bounds.Scale);
        AssertOrdered(bounds.MeanLife);
        Assert.All(bounds.AgesWhenFailed, a => AssertOrdered(a.Age));
        Assert.All(bounds.SurvivalAtAges, s => AssertOrdered(s.Survival));
    }

    private static void AssertOrdered(Estimate e)
    {
        Assert.True(double.IsFinite(e.Value) && double.IsFinite(e.Lower ?? 0) && double.IsFinite(e.Upper ?? 0), $"{e}");
        Assert.False(e.Lower > e.Value * (1 + 1e-9) || e.Upper < e.Value * (1 - 1e-9), $"{e}");
    }
}
