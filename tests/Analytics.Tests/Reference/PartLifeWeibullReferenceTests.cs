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
