using CsCheck;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.PartLife;

/// <summary>What must hold for any lives; comparison with the slow second implementation.</summary>
public sealed class WeibullFitPropertyTests
{
    /// <summary>Small samples with ties, entries, intervals and censoring; not so small that no maximum exists every time.</summary>
    private static readonly Gen<ReferenceLife[]> Samples = Gen
        .Select(Gen.Int[0, 3], Gen.Int[1, 200], Gen.Int[1, 40], Gen.OneOf(Gen.Const(0), Gen.Int[1, 60]))
        .Select((kind, age, gap, entry) => kind switch
        {
            0 => new ReferenceLife(age, double.PositiveInfinity, Math.Min(entry, age - 1)),
            1 => new ReferenceLife(age, age + gap, Math.Min(entry, age)),
            _ => new ReferenceLife(age, age, Math.Min(entry, age - 1)),
        })
        .Array[6, 25];

    [Fact]
    public void The_fit_agrees_with_the_slow_reference() => Drawn.Each(Samples, 250, sample =>
    {
        if (WeibullFit.Fit(LivesOf(sample)) is FittedLife fit)
        {
            (double logScale, double logShape, double value) = PartLifeWeibullReference.Maximise(sample);
            Assert.Equal(value, fit.LogLikelihood, 1e-8 * (1 + Math.Abs(value)));
            AssertRelative(Math.Exp(logShape), fit.Curve.Shape, 1e-5);
            AssertRelative(Math.Exp(logScale), fit.Curve.Scale, 1e-4);
        }
    });

    [Fact]
    public void Profile_bounds_agree_with_the_slow_reference() => Drawn.Each(Samples, 250, sample =>
    {
        if (WeibullFit.Fit(LivesOf(sample)) is FittedLife fit)
        {
            WeibullProfileCheck.AssertBounds(sample, fit);
        }
    });

    [Fact]
    public void Order_does_not_matter() => Drawn.Each(Gen.Select(Samples, Gen.Int), 2000, drawn =>
    {
        ReferenceLife[] shuffled = [.. drawn.Item1];
        new Random(drawn.Item2).Shuffle(shuffled);
        AssertSame(WeibullFit.Fit(LivesOf(drawn.Item1)), WeibullFit.Fit(LivesOf(shuffled)), 1, 1);
    });

    [Fact]
    public void Another_unit_of_age_changes_the_scale_alone() => Drawn.Each(Gen.Select(Samples, Gen.Double[-6, 6]), 2000, drawn =>
    {
        double unit = Math.Pow(10, drawn.Item2);
        ReferenceLife[] scaled = [.. drawn.Item1.Select(l => new ReferenceLife(l.Lower * unit, l.Upper * unit, l.Entry * unit))];
        AssertSame(WeibullFit.Fit(LivesOf(drawn.Item1)), WeibullFit.Fit(LivesOf(scaled)), unit, 1);
    });

    [Fact]
    public void Every_life_twice_gives_the_same_curve_with_half_the_variance() => Drawn.Each(
        Samples, 2000, sample => AssertSame(WeibullFit.Fit(LivesOf(sample)), WeibullFit.Fit(LivesOf([.. sample, .. sample])), 1, 2));

    /// <summary>
    /// All lives twice have twice the log-likelihood, so their bounds at a root of the fall of 1.96 x sqrt 2 are those of the lives once at
    /// 1.96. The fewer lives are summed one by one at every step, the more of them by a series: both must say the same.
    /// </summary>
    [Theory]
    [InlineData(0.3)]
    [InlineData(1.8)]
    [InlineData(9)]
    public void Bounds_by_series_are_the_bounds_by_summing(double shape)
    {
        var random = new Random(5);
        var truth = new Weibull(1000, shape);
        var once = new List<ReferenceLife>();
        while (once.Count < 8000)
        {
            double life = truth.AgeWhenFailed(1 - random.NextDouble()), entry = truth.AgeWhenFailed(0.4 * (1 - random.NextDouble()));
            double end = truth.AgeWhenFailed(0.3 + (0.6 * random.NextDouble()));
            if (entry < Math.Min(life, end))
            {
                once.Add(life < end ? new ReferenceLife(life, life, entry) : new ReferenceLife(end, double.PositiveInfinity, entry));
            }
        }

        double level = 1 - (2 * MathNet.Numerics.Distributions.Normal.CDF(0, 1, -1.9599639845400545 * Math.Sqrt(2)));
        WeibullBoundsOptions options = new() { SurvivalAges = [truth.AgeWhenFailed(0.7)] };
        LifeBounds summed = WeibullBounds.Of(WeibullFitTests.Fitted(LivesOf(once)), options);
        LifeBounds series = WeibullBounds.Of(WeibullFitTests.Fitted(LivesOf([.. once, .. once])), options with { Level = level });
        foreach ((Estimate a, Estimate b) in Figures(summed).Zip(Figures(series)))
        {
            AssertRelative(a.Lower!.Value, b.Lower!.Value, 1e-7);
            AssertRelative(a.Upper!.Value, b.Upper!.Value, 1e-7);
        }
    }

    private static Estimate[] Figures(LifeBounds b) =>
        [b.Shape, b.Scale, b.MeanLife, .. b.AgesWhenFailed.Select(f => f.Age), .. b.SurvivalAtAges.Select(s => s.Survival)];

    [Fact]
    public void A_life_between_looks_a_moment_apart_counts_as_exact()
    {
        double[] ages = [12, 31, 44, 52, 70, 95];
        var builder = new LivesBuilder("days");
        foreach (double age in ages)
        {
            _ = builder.FailedBetween(age * (1 - 1e-9), age);
        }

        FittedLife exact = WeibullFitTests.Fitted(PublishedLives.Complete(ages));
        FittedLife between = WeibullFitTests.Fitted(builder.Build());
        AssertRelative(exact.Curve.Shape, between.Curve.Shape, 1e-6);
        AssertRelative(exact.Curve.Scale, between.Curve.Scale, 1e-6);
    }

    /// <summary>
    /// Truth: shape 1.8, scale 1000, entry uniform to 400, running time ended at 900, half the failures known to the next look of 100.
    /// Of 400 simulated fleets of 60 the 90 % profile bounds must cover the truth in 90 % of cases, within 4 standard errors (6 %).
    /// </summary>
    [Fact]
    [Trait("Category", "Slow")]
    public void Bounds_cover_the_simulated_truth_at_their_level()
    {
        const int Fleets = 400;
        var random = new Random(20260711);
        var truth = new Weibull(1000, 1.8);
        var covered = new Dictionary<string, int>();
        for (int fleet = 0; fleet < Fleets; fleet++)
        {
            FittedLife fit = WeibullFitTests.Fitted(Simulated(random, truth, 60));
            LifeBounds bounds = WeibullBounds.Of(
                fit, new WeibullBoundsOptions { Level = 0.9, FailedFractions = [0.10], SurvivalAges = [500] });
            Count(covered, "shape", bounds.Shape, truth.Shape);
            Count(covered, "scale", bounds.Scale, truth.Scale);
            Count(covered, "mean", bounds.MeanLife, truth.MeanLife);
            Count(covered, "B10", bounds.AgesWhenFailed[0].Age, truth.AgeWhenFailed(0.10));
            Count(covered, "survival", bounds.SurvivalAtAges[0].Survival, truth.SurvivalAt(500));
        }

        Assert.All(covered, c => Assert.True(
            Math.Abs((c.Value / (double)Fleets) - 0.9) < 0.06, $"{c.Key}: {c.Value} of {Fleets} (seed 20260711)"));
    }

    [Fact]
    public void A_large_fleet_gives_back_the_truth()
    {
        var truth = new Weibull(1000, 1.8);
        FittedLife fit = WeibullFitTests.Fitted(Simulated(new Random(7), truth, 40_000));
        AssertRelative(truth.Shape, fit.Curve.Shape, 0.03);
        AssertRelative(truth.Scale, fit.Curve.Scale, 0.03);
    }

    /// <summary>Ages and flags are 9 bytes a life: the lives may take twice that while they are collected, the fit once more.</summary>
    [Fact]
    public void A_million_lives_need_no_more_than_three_times_the_inputs()
    {
        const int Count = 1_000_000;
        const long InputBytes = Count * (sizeof(double) + sizeof(bool));
        var random = new Random(3);
        long start = GC.GetAllocatedBytesForCurrentThread();
        var builder = new LivesBuilder("days", Count);
        for (int i = 0; i < Count; i++)
        {
            double life = 1000 * Math.Pow(-Math.Log(1 - random.NextDouble()), 1 / 1.8);
            _ = life < 300 ? builder.FailedAt(life) : builder.StillRunningAt(300);
        }

        Lives lives = builder.Build();
        long built = GC.GetAllocatedBytesForCurrentThread();
        LifeBounds bounds = WeibullBounds.Of(WeibullFitTests.Fitted(lives));
        Assert.InRange(built - start, 0, (2 * InputBytes) + (InputBytes / 10));
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - built, 0, InputBytes);
        Assert.InRange(1.8, bounds.Shape.Lower!.Value, bounds.Shape.Upper!.Value);
    }

    internal static Lives LivesOf(IEnumerable<ReferenceLife> sample)
    {
        var builder = new LivesBuilder("days");
        foreach (ReferenceLife life in sample)
        {
            _ = life.Lower == life.Upper ? builder.FailedAt(life.Upper, life.Entry)
                : double.IsPositiveInfinity(life.Upper) ? builder.StillRunningAt(life.Lower, life.Entry)
                : builder.FailedBetween(life.Lower, life.Upper, life.Entry);
        }

        return builder.Build();
    }

    private static Lives Simulated(Random random, Weibull truth, int parts)
    {
        var builder = new LivesBuilder("days");
        while (builder.Count < parts)
        {
            double life = truth.AgeWhenFailed(random.NextDouble());
            double entry = 400 * random.NextDouble();
            double look = Math.Floor(life / 100) * 100;
            if (life > entry)
            {
                _ = life > 900 ? builder.StillRunningAt(900, entry)
                    : random.Next(2) == 0 ? builder.FailedAt(life, entry)
                    : builder.FailedBetween(look, look + 100, entry);
            }
        }

        return builder.Build();
    }

    private static void Count(Dictionary<string, int> covered, string name, Estimate bounds, double truth) =>
        covered[name] = covered.GetValueOrDefault(name)
            + (truth >= (bounds.Lower ?? double.NegativeInfinity) && truth <= (bounds.Upper ?? double.PositiveInfinity) ? 1 : 0);

    private static void AssertSame(LifeResult first, LifeResult second, double unit, double copies)
    {
        if (first is FittedLife a)
        {
            FittedLife b = Assert.IsType<FittedLife>(second);
            AssertRelative(a.Curve.Shape, b.Curve.Shape, 1e-7);
            AssertRelative(a.Curve.Scale * unit, b.Curve.Scale, 1e-7);
            AssertRelative(a.VarianceOfLogShape, b.VarianceOfLogShape * copies, 1e-6);
        }
        else
        {
            Assert.True(copies > 1 || second is NotEnough n && n.Rule == ((NotEnough)first).Rule, $"{first} against {second}");
        }
    }

    private static void AssertRelative(double expected, double given, double tolerance) => Assert.True(
        Math.Abs(given - expected) <= tolerance * Math.Abs(expected),
        FormattableString.Invariant($"expected {expected:R}, given {given:R}"));
}
