namespace Washwear.Analytics.Tests.Reference;

/// <summary>The reference is itself checked on published cases before anything is compared with it.</summary>
public sealed class PartLifeWeibullReferenceTests
{
    private const double HalfChiSquare95 = 3.841459 / 2;

    [Fact]
    public void It_meets_the_published_ball_bearings()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.ball_bearings_complete");
        ReferenceLife[] lives = [.. check.Rows.Numbers("million_revolutions").Select(a => new ReferenceLife(a, a, 0))];
        AssertMeets(check, lives);
    }

    [Fact]
    public void It_meets_the_published_fans_entered_late_with_intervals()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.generator_fans_entry_and_intervals");
        double[] entries = check.Rows.Numbers("entry_hours");
        double[] lower = check.Rows.Numbers("lower");
        double?[] upper = check.Rows.NumbersOrMissing("upper");
        AssertMeets(check, [.. lower.Select((l, i) => new ReferenceLife(l, upper[i] ?? double.PositiveInfinity, entries[i]))]);
    }

    /// <summary>All parts entered late: as the shape falls to 0 the likelihood stays within 0.24 of its top, so no lower bound exists.</summary>
    [Fact]
    public void An_open_bound_ends_the_search()
    {
        const double Never = double.PositiveInfinity;
        ReferenceLife[] lives = [new(129, Never, 34), new(99, 99, 4), new(3, 33, 3), new(21, 57, 21), new(7, Never, 6), new(12, Never, 11)];
        (_, double logShape, _) = PartLifeWeibullReference.Maximise(lives);
        (double? lower, double? upper) = PartLifeWeibullReference.Bounds(lives, logShape, HalfChiSquare95, null);
        Assert.Null(lower);
        Assert.NotNull(upper);
    }

    private static void AssertMeets(PublishedCheck check, ReferenceLife[] lives)
    {
        (double logScale, double logShape, double value) = PartLifeWeibullReference.Maximise(lives);
        check.AssertClose(value, "loglik");
        check.AssertClose(Math.Exp(logScale), "scale", "estimate");
        check.AssertClose(Math.Exp(logShape), "shape", "estimate");
        (double? lower, double? upper) = PartLifeWeibullReference.Bounds(lives, logScale, HalfChiSquare95, (q, _) => q);
        check.AssertClose(Math.Exp(lower!.Value), "scale", "lower_profile");
        check.AssertClose(Math.Exp(upper!.Value), "scale", "upper_profile");
    }
}
