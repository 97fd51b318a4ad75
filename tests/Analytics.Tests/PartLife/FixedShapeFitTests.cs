using System.Text.Json;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class FixedShapeFitTests
{
    [Theory]
    [InlineData(0.50)]
    [InlineData(0.90)]
    [InlineData(0.95)]
    public void Zero_failures_meet_the_published_bound(double confidence)
    {
        PublishedCheck check = PublishedChecks.Get("fixed_shape.zero_failures");
        double[] ages = [.. check.Inputs.GetProperty("running_times").EnumerateArray().Select(t => t.GetDouble())];
        Lives lives = PublishedLives.FromArrays(ages, new bool[ages.Length]);
        AssertMeets(check, lives, 2, confidence, FormattableString.Invariant($"conf_{confidence:F2}"));
    }

    [Theory]
    [InlineData(1.5)]
    [InlineData(2)]
    [InlineData(3)]
    public void One_failure_meets_the_published_bound(double shape)
    {
        PublishedCheck check = PublishedChecks.Get("fixed_shape.one_failure");
        double[] ages = [.. check.Inputs.GetProperty("times").EnumerateArray().Select(t => t.GetDouble())];
        bool[] failed = [.. check.Inputs.GetProperty("failed").EnumerateArray().Select(f => f.GetInt32() == 1)];
        AssertMeets(check, PublishedLives.FromArrays(ages, failed), shape, 0.9, FormattableString.Invariant($"shape_{shape}"));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(1.5)]
    public void Twelve_failures_meet_the_published_bound(double shape) => AssertMeets(
        PublishedChecks.Get("fixed_shape.generator_fans"), PublishedLives.Of("weibull_mle.generator_fans"), shape, 0.95,
        FormattableString.Invariant($"shape_{shape}"));

    [Fact]
    public void Three_published_cases_are_checked() => Assert.Equal(3, PublishedChecks.Ids("fixed_shape.").Count);

    /// <summary>By hand: with no failure the bound is (S / -ln(1 - c))^(1/k); parts at 3 and 4, shape 2, S = 25.</summary>
    [Fact]
    public void No_failure_by_hand()
    {
        FixedShapeLife life = Given(new LivesBuilder("days").StillRunningAt(3).StillRunningAt(4).Build(), 2, 1 - Math.Exp(-1));
        Assert.Equal(5, life.ScaleLower, 1e-9);
        Assert.Null(life.Scale);
    }

    /// <summary>By hand: entry at 3 takes 9 of the 25 away, whatever ended the life.</summary>
    [Fact]
    public void Delayed_entry_takes_its_running_time_away()
    {
        FixedShapeLife life = Given(new LivesBuilder("days").FailedAt(5, enteredAt: 3).Build(), 2, 0.9);
        Assert.Equal(4, life.Scale!.Value, 1e-12);
        Assert.Equal(Math.Log(16), life.LogPoweredExposure, 1e-12);
    }

    /// <summary>A record ended at its only failure has 2 degrees of freedom, as one with none: S / -ln(1 - c).</summary>
    [Fact]
    public void A_record_ended_by_its_failure_has_two_degrees_less()
    {
        Lives lives = new LivesBuilder("days").FailedAt(5).StillRunningAt(5).Build();
        var life = Assert.IsType<FixedShapeLife>(FixedShapeFit.Fit(lives, 1, 1 - Math.Exp(-2), RecordStop.AtTheLastFailure));
        Assert.Equal(5, life.ScaleLower, 1e-9);
        Lives none = new LivesBuilder("days").StillRunningAt(5).Build();
        Assert.IsType<NotEnough>(FixedShapeFit.Fit(none, 1, 0.9, RecordStop.AtTheLastFailure));
    }

    /// <summary>By hand: n found failed at 1 and m still working at 1: S(1) = m/(n+m), so scale = 1/ln((n+m)/m) at shape 1.</summary>
    [Fact]
    public void Failures_between_looks_by_hand()
    {
        Lives lives = new LivesBuilder("days").FailedBetween(0, 1).FailedBetween(0, 1).FailedBetween(0, 1).StillRunningAt(1).Build();
        FixedShapeLife life = Given(lives, 1, 0.9);
        Assert.Equal(1 / Math.Log(4), life.Scale!.Value, 1e-9);
        Assert.Equal(0, life.LogPoweredExposure, 1e-12);
        Assert.Contains(life.Account.Doubts, d => d.Contains("last look", StringComparison.Ordinal));
    }

    [Fact]
    public void Parts_found_failed_at_their_first_look_alone_give_no_bound() =>
        Assert.IsType<NotEnough>(FixedShapeFit.Fit(new LivesBuilder("days").FailedBetween(0, 9).Build(), 2));

    [Theory]
    [InlineData(0)]
    [InlineData(double.NaN)]
    [InlineData(101)]
    public void A_senseless_shape_is_refused(double shape) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => FixedShapeFit.Fit(PublishedLives.Complete(1), shape));

    [Theory]
    [InlineData(ShapeSource.Assumed, "The shape (2) was assumed, not fitted to these lives")]
    [InlineData(ShapeSource.EnteredByUser, "The shape (2) was entered by the user, not fitted to these lives")]
    public void The_source_of_the_shape_is_named(ShapeSource source, string words)
    {
        Lives lives = new LivesBuilder("days").FailedAt(5).StillRunningAt(5).Build();
        var life = Assert.IsType<FixedShapeLife>(FixedShapeFit.Fit(lives, new GivenShape(2, source)));
        Assert.Equal(source, life.Given.Source);
        Assert.StartsWith(words, Assert.Single(life.Account.Doubts), StringComparison.Ordinal);
    }

    /// <summary>The fans as the fleet, two new fans of the same position: the bound at the fleet's shape and over the shape's own bounds.</summary>
    [Fact]
    public void A_shape_of_the_fleet_brings_its_bounds_along()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.generator_fans");
        FittedLife fleet = WeibullFitTests.Fitted(PublishedLives.Of("weibull_mle.generator_fans"));
        var shape = GivenShape.OfFleet(fleet);
        check.AssertClose(shape.Value, "shape", "estimate");
        check.AssertClose(shape.Lower, "shape", "lower_profile");
        Lives few = new LivesBuilder("hours").StillRunningAt(3000).StillRunningAt(4000).Build();
        var life = Assert.IsType<FixedShapeLife>(FixedShapeFit.Fit(few, shape, 0.9));
        double[] atEnds = [.. new[] { shape.Lower!.Value, shape.Upper!.Value }.Select(end => Given(few, end, 0.9).AgeWhenFailedLower(0.10))];
        Assert.InRange(life.AgeWhenFailedLower(0.10), atEnds.Min(), atEnds.Max());
        Assert.Contains("fleet's parts at the same position", life.Account.Doubts[0], StringComparison.Ordinal);
        Assert.Contains(
            FormattableString.Invariant($"runs from {atEnds.Min():G4} to {atEnds.Max():G4} hours"), life.Account.Doubts[1], StringComparison.Ordinal);
    }

    private static FixedShapeLife Given(Lives lives, double shape, double confidence) =>
        Assert.IsType<FixedShapeLife>(FixedShapeFit.Fit(lives, shape, confidence));

    private static void AssertMeets(PublishedCheck check, Lives lives, double shape, double confidence, string under)
    {
        FixedShapeLife life = Given(lives, shape, confidence);
        JsonElement expected = check.Value(under);
        check.AssertClose(expected.GetProperty("sum_t_to_shape"), Math.Exp(life.LogPoweredExposure), "sum");
        check.AssertClose(expected.GetProperty("scale_mle"), life.Scale, "scale");
        check.AssertClose(expected.GetProperty("scale_lower"), life.ScaleLower, "scale lower");
        check.AssertClose(expected.GetProperty("b10_lower"), life.AgeWhenFailedLower(0.10), "B10 lower");
        check.AssertClose(expected.GetProperty("mean_life_lower"), life.MeanLifeLower, "mean lower");
        Assert.Equal(expected.GetProperty("failures").GetInt32(), life.Account.Failures);
    }
}
