using System.Text.Json;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class GroupComparisonTests
{
    [Fact]
    public void The_published_two_groups_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_groups.leukemia_two_groups");
        GroupComparisonResult result = Leukemia();
        AssertTests(check, result);
        check.AssertClose(result.Groups[0].ScaleAtCommonShape, "common_shape", "scale_mp6");
        check.AssertClose(result.Groups[1].ScaleAtCommonShape, "common_shape", "scale_control");
        check.AssertClose(Fitted(result.Groups[0]).Curve.Shape, "separate", "mp6", "shape");
        check.AssertClose(Fitted(result.Groups[1]).LogLikelihood, "separate", "control", "loglik");
        check.AssertClose(Assert.Single(result.Comparisons).PValue, "test_equal_scale_given_common_shape", "p_value");
    }

    [Fact]
    public void The_published_three_groups_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_groups.motor_insulation_three_groups");
        string[] names = ["170", "190", "220"];
        GroupComparisonResult result = GroupComparison.Compare(
            [.. names.Select(n => new LifeGroup(n, PublishedLives.Group(check.DataFile, "time", "temp", n)))]);
        AssertTests(check, result);
        check.AssertAllClose(result.Groups.Select(g => g.ScaleAtCommonShape), "common_shape", "scale");
        check.AssertAllClose(result.Groups.Select(g => Fitted(g).Curve.Shape), "separate", "shape");
        Assert.Equal(["190", "220"], result.Comparisons.Select(c => c.Name));
        Assert.All(result.Comparisons, c => Assert.InRange(c.AdjustedPValue!.Value, c.PValue!.Value, 1));
    }

    /// <summary>
    /// With shape 1 the ratio of two means is bounded through F (Lawless 2003, 4.2): here a Weibull profile must come near it, and it
    /// must turn over when the groups change places.
    /// </summary>
    [Fact]
    public void The_ratio_turns_over_with_the_reference()
    {
        LifeGroup a = new("6-MP", PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "6-MP"));
        LifeGroup b = new("control", PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "control"));
        var over = GroupComparison.Compare([a, b], "control").Comparisons[0].ScaleRatio!;
        var under = GroupComparison.Compare([a, b], "6-MP").Comparisons[0].ScaleRatio!;
        PublishedCheck check = PublishedChecks.Get("weibull_groups.leukemia_two_groups");
        double expected = check.Value("common_shape", "scale_mp6").GetDouble() / check.Value("common_shape", "scale_control").GetDouble();
        Assert.Equal(expected, over.Value, expected * 1e-6);
        Assert.Equal(1 / over.Value, under.Value, 1e-8);
        Assert.Equal(1 / over.Lower!.Value, under.Upper!.Value, 1e-6);
        Assert.Equal(1 / over.Upper!.Value, under.Lower!.Value, 1e-6);
        Assert.True(over.Lower > 1, "the p-value is 9e-6, so 1 must lie outside");
    }

    /// <summary>Ratio bound against a direct evaluation: at the bound, rescaled lives pooled lose half of chi-square.</summary>
    [Fact]
    public void At_the_bound_the_pooled_rescaled_lives_have_lost_half_the_chi_square()
    {
        double ratio = Leukemia().Comparisons[0].ScaleRatio!.Upper!.Value;
        Lives control = PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "control");
        string[] groups = PublishedChecks.Csv("leukemia_remission.csv").Text("treatment");
        double[] weeks = PublishedChecks.Csv("leukemia_remission.csv").Numbers("weeks");
        double[] status = PublishedChecks.Csv("leukemia_remission.csv").Numbers("status");
        bool[] failed = [.. status.Select(s => s == 1)];
        double[] scaled = [.. weeks.Select((w, i) => groups[i] == "6-MP" ? w / ratio : w)];
        double pooled = WeibullFitTests.Fitted(PublishedLives.FromArrays(scaled, failed)).LogLikelihood
            - (9 * Math.Log(ratio));
        double top = PublishedChecks.Get("weibull_groups.leukemia_two_groups").Value("common_shape", "loglik").GetDouble();
        Assert.Equal(21, control.Count);
        Assert.Equal(top - (3.841458821 / 2), pooled, 1e-6);
    }

    [Fact]
    public void A_group_without_failures_takes_part_and_has_no_ratio()
    {
        Lives good = new LivesBuilder("days").StillRunningAt(900).StillRunningAt(950).StillRunningAt(800).Build();
        Lives bad = new LivesBuilder("days").FailedAt(100).FailedAt(180).FailedAt(220).FailedAt(310).StillRunningAt(330).Build();
        GroupComparisonResult result = GroupComparison.Compare([new("good", good), new("bad", bad)]);
        Assert.Equal("bad", result.Comparisons[0].Reference);
        Assert.Null(result.Comparisons[0].ScaleRatio);
        Assert.InRange(result.Comparisons[0].PValue!.Value, 0, 0.01);
        Assert.Null(result.Groups[0].ScaleAtCommonShape);
        Assert.Null(result.EqualShape);
        Assert.Contains(result.Account.Doubts, d => d.Contains("equal shapes are supposed", StringComparison.Ordinal));
    }

    [Fact]
    public void No_failures_at_all_compare_nothing()
    {
        Lives none = new LivesBuilder("days").StillRunningAt(5).Build();
        Lives empty = new LivesBuilder("days").Build();
        GroupComparisonResult result = GroupComparison.Compare([new("a", none), new("b", none), new("c", empty)]);
        Assert.Null(result.CommonShape);
        Assert.All(result.Comparisons, c => Assert.Null(c.PValue));
    }

    /// <summary>Equal truths: p-values below 5 % in 5 % of 500 trials +/- 4 x 1 %; bounds of the ratio cover 1 in 95 % +/- 4 %.</summary>
    [Fact]
    [Trait("Category", "Slow")]
    public void The_level_is_kept_and_the_ratio_covered_where_nothing_differs()
    {
        const int Trials = 500;
        var random = new Random(42);
        int alarms = 0, covered = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            GroupComparisonResult result = GroupComparison.Compare(
                [new("a", Simulated.Lives(random, 40)), new("b", Simulated.Lives(random, 40))]);
            alarms += result.EqualScale!.PValue < 0.05 ? 1 : 0;
            covered += result.Comparisons[0].ScaleRatio is { Lower: < 1, Upper: > 1 } ? 1 : 0;
        }

        Assert.InRange(alarms / (double)Trials, 0.01, 0.09);
        Assert.InRange(covered / (double)Trials, 0.91, 0.99);
    }

    private static GroupComparisonResult Leukemia() => GroupComparison.Compare(
        [
            new("6-MP", PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "6-MP")),
            new("control", PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "control")),
        ]);

    private static FittedLife Fitted(GroupFit group) => Assert.IsType<FittedLife>(group.Fit);

    private static void AssertTests(PublishedCheck check, GroupComparisonResult result)
    {
        check.AssertClose(result.CommonShape, "common_shape", "shape");
        check.AssertClose(result.CommonShapeLogLikelihood, "common_shape", "loglik");
        check.AssertClose(((FittedLife)result.Pooled).Curve.Shape, "pooled", "shape");
        check.AssertClose(((FittedLife)result.Pooled).Curve.Scale, "pooled", "scale");
        check.AssertClose(((FittedLife)result.Pooled).LogLikelihood, "pooled", "loglik");
        check.AssertClose(result.Groups.Sum(g => Fitted(g).LogLikelihood), "separate", "loglik");
        AssertTest(check, result.EqualShape, "test_equal_shape");
        AssertTest(check, result.EqualScale, "test_equal_scale_given_common_shape");
        AssertTest(check, result.EqualShapeAndScale, "test_equal_shape_and_scale");
    }

    private static void AssertTest(PublishedCheck check, LikelihoodRatioTest? test, string name)
    {
        // The smallest published statistic, 0.0014, is a difference of log-likelihoods printed to ten digits: absolute 1e-8 is its worth.
        JsonElement statistic = check.Value(name, "lr_statistic");
        Assert.Equal(statistic.GetDouble(), test!.Statistic, Math.Max(2e-8, statistic.GetDouble() * check.ToleranceRel));
        check.AssertClose(test.DegreesOfFreedom, name, "df");
        Assert.Equal(check.Value(name, "p_value").GetDouble(), test.PValue, check.Value(name, "p_value").GetDouble() * 1e-6);
    }
}
