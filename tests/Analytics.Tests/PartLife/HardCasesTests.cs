using Washwear.Analytics.PartLife;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.PartLife;

/// <summary>Data sets that once broke a fit; the story of each is the first line of its file in Data/hard.</summary>
public sealed class HardCasesTests
{
    [Fact]
    public void A_sharp_failure_beside_open_intervals_is_recognised() => Assert.Equal(
        NoFitRule.BeyondRange, Assert.IsType<NotEnough>(WeibullFit.Fit(Read("weibull_sharp_with_open_interval.csv", out _))).Rule);

    // The oldest life, watched from its last look on, adds nothing to the likelihood near the top; the slow reference cannot compute it
    // there (two infinite hazards), and its own search stops short, so it is asked about the other five, over a grid: nowhere is more.
    [Fact]
    public void A_ridge_across_the_coordinates_is_climbed_to_its_top()
    {
        FittedLife fit = WeibullFitTests.Fitted(Read("weibull_ridge_across_the_coordinates.csv", out ReferenceLife[] lives));
        ReferenceLife[] others =
            [.. lives.Where(life => life.Entry < 4).Select(life => new ReferenceLife(life.Lower, life.Upper, life.Entry < 1e-30 ? 0 : life.Entry))];
        Assert.Equal(PartLifeWeibullReference.LogLikelihood(others, Math.Log(fit.Curve.Scale), Math.Log(fit.Curve.Shape)), fit.LogLikelihood, 1e-8);
        for (double logScale = -3; logScale <= 3; logScale += 0.02)
        {
            for (double logShape = -3; logShape <= 6; logShape += 0.02)
            {
                double there = PartLifeWeibullReference.LogLikelihood(others, logScale, logShape);
                Assert.False(there > fit.LogLikelihood + 1e-9, $"{there} at {logScale}, {logShape}");
            }
        }
    }

    [Fact]
    public void A_look_at_a_late_entry_fits_and_agrees_with_the_reference()
    {
        FittedLife fit = WeibullFitTests.Fitted(Read("weibull_look_at_late_entry.csv", out ReferenceLife[] lives));
        (double logScale, double logShape, double value) = PartLifeWeibullReference.Maximise(lives);
        Assert.Equal(value, fit.LogLikelihood, 1e-8);
        Assert.Equal(logScale, Math.Log(fit.Curve.Scale), 1e-5);
        Assert.Equal(logShape, Math.Log(fit.Curve.Shape), 1e-5);
    }

    [Fact]
    public void A_plateau_near_shape_zero_ends_in_words() => Assert.Equal(
        NoFitRule.ShapeTowardsZero, Assert.IsType<NotEnough>(WeibullFit.Fit(Read("weibull_plateau_near_shape_zero.csv", out _))).Rule);

    [Fact]
    public void A_bound_past_the_limit_of_the_search_is_open()
    {
        FittedLife fit = WeibullFitTests.Fitted(Read("weibull_bound_past_the_limit.csv", out ReferenceLife[] lives));
        Assert.Null(WeibullBounds.AgeWhenFailed(fit, 0.10).Lower);
        WeibullProfileCheck.AssertBounds(lives, fit);
    }

    [Fact]
    public void Survival_is_bounded_though_its_hazard_may_be_wrong_by_millions()
    {
        FittedLife fit = WeibullFitTests.Fitted(Read("weibull_survival_far_from_its_hazard.csv", out ReferenceLife[] lives));
        LifeBounds bounds = WeibullBounds.Of(fit, new WeibullBoundsOptions { SurvivalAges = [50] });
        Assert.InRange(bounds.SurvivalAtAges[0].Survival.Lower!.Value, 0.9999, 0.99997);
        Assert.Null(bounds.SurvivalAtAges[0].Survival.Upper);
        Assert.Contains("The upper bound of the survival at 50 is open: the records do not exclude 1.", bounds.Doubts);
        WeibullProfileCheck.AssertBounds(lives, fit);
    }

    /// <summary>A failure between looks a hair apart is a failure at that age: replaced by it, the curve must stay the same.</summary>
    [Theory]
    [InlineData("weibull_looks_a_hair_apart.csv")]
    [InlineData("weibull_looks_and_entries_a_hair_apart.csv")]
    public void Looks_a_hair_apart_give_the_curve_of_exact_ages(string file)
    {
        FittedLife fit = WeibullFitTests.Fitted(Read(file, out ReferenceLife[] lives));
        ReferenceLife[] exact = [.. lives.Select(l => l.Upper - l.Lower < 1e-8 * l.Upper ? l with { Lower = l.Upper } : l)];
        Assert.Contains(exact, l => l.Lower == l.Upper);
        FittedLife plain = WeibullFitTests.Fitted(WeibullFitPropertyTests.LivesOf(exact));
        Assert.Equal(plain.Curve.Shape, fit.Curve.Shape, 1e-6 * plain.Curve.Shape);
        Assert.Equal(plain.Curve.Scale, fit.Curve.Scale, 1e-6 * plain.Curve.Scale);
    }

    [Fact]
    public void A_tiny_chance_of_failure_keeps_its_digits()
    {
        FittedLife fit = WeibullFitTests.Fitted(Read("weibull_chance_of_failure_rounded.csv", out ReferenceLife[] lives));
        (double logScale, double logShape, double value) = PartLifeWeibullReference.Maximise(lives);
        Assert.Equal(value, fit.LogLikelihood, 1e-6);
        Assert.Equal(logShape, Math.Log(fit.Curve.Shape), 1e-4);
        Assert.Equal(logScale, Math.Log(fit.Curve.Scale), 1e-3);
    }

    [Fact]
    public void Groups_whose_intervals_are_sure_to_fail_or_not_are_compared()
    {
        LifeGroup[] groups = GroupsIn("groups_intervals_sure_to_fail_or_not.csv");
        ScaleComparison compared = Assert.Single(GroupComparison.Compare(groups).Comparisons);

        // However short the one group's life, its part fails between its two looks: no ratio is too small.
        Assert.Null(compared.ScaleRatio!.Lower);
        Assert.InRange(compared.ScaleRatio.Upper!.Value, compared.ScaleRatio.Value, 2);
        ScaleComparison turned = Assert.Single(GroupComparison.Compare(groups, compared.Name).Comparisons);
        Assert.Equal(1, turned.ScaleRatio!.Value * compared.ScaleRatio.Value, 1e-6);
        Assert.Equal(1, turned.ScaleRatio.Lower!.Value * compared.ScaleRatio.Upper!.Value, 1e-6);
        Assert.Null(turned.ScaleRatio.Upper);
    }

    [Fact]
    public void A_ratio_of_scales_beyond_numbers_is_no_ratio()
    {
        ScaleComparison compared = Assert.Single(GroupComparison.Compare(GroupsIn("groups_ratio_beyond_numbers.csv")).Comparisons);
        Assert.Null(compared.ScaleRatio);
        Assert.InRange(compared.PValue ?? 1, 0, 1);
    }

    [Fact]
    public void Every_file_has_its_story_and_its_test()
    {
        string[] files = Directory.GetFiles(Folder, "*.csv");
        Assert.Equal(11, files.Length);
        Assert.All(files, file => Assert.StartsWith("# ", File.ReadLines(file).First(), StringComparison.Ordinal));
    }

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "Data", "hard");

    private static Lives Read(string file, out ReferenceLife[] lives)
    {
        lives = LivesIn(CsvRows.Parse(file, File.ReadAllLines(Path.Combine(Folder, file))));
        return WeibullFitPropertyTests.LivesOf(lives);
    }

    private static LifeGroup[] GroupsIn(string file)
    {
        CsvRows rows = CsvRows.Parse(file, File.ReadAllLines(Path.Combine(Folder, file)));
        return [.. rows.Text("group").Zip(LivesIn(rows)).GroupBy(row => row.First, row => row.Second)
            .Select(group => new LifeGroup(group.Key, WeibullFitPropertyTests.LivesOf(group)))];
    }

    private static ReferenceLife[] LivesIn(CsvRows rows)
    {
        (double[] lower, double?[] upper, double[] entry) = (rows.Numbers("lower"), rows.NumbersOrMissing("upper"), rows.Numbers("entry"));
        return [.. lower.Select((l, i) => new ReferenceLife(Math.Max(l, entry[i]), upper[i] ?? double.PositiveInfinity, entry[i]))];
    }
}
