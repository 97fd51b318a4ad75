using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

public sealed class OnTimeTrendTests
{
    /// <summary>expected.json, on_time_trend.cluster_robust_slope: 12 constructed units over 8 weeks, computed in R.</summary>
    [Fact]
    public void Twelve_units_over_eight_weeks_give_the_line_and_bounds_of_the_reference()
    {
        PublishedCheck check = PublishedChecks.Get("on_time_trend.cluster_robust_slope");
        double[] units = [.. check.Rows.Numbers("unit")];
        double[] weeks = [.. check.Rows.Numbers("week")];
        double[] due = [.. check.Rows.Numbers("due")];
        double[] kept = [.. check.Rows.Numbers("kept")];

        OnTimeTrend trend = OnTimeTrend.Of(Enumerable.Range(0, units.Length)
            .Select(i => new UnitPeriodShare((int)units[i], (int)weeks[i], (int)due[i], (int)kept[i])));

        Assert.Equal(check.Value("units").GetInt32(), trend.Units);
        Assert.Equal(check.Value("due").GetInt32(), trend.Due);
        check.AssertClose(trend.Start, "start");
        check.AssertClose(trend.End, "end");
        check.AssertClose(trend.Change!.Value, "change");
        check.AssertClose(trend.Change.Lower, "change_lower");
        check.AssertClose(trend.Change.Upper, "change_upper");
    }

    [Fact]
    public void Five_units_are_too_few_to_call_anything_a_trend()
    {
        OnTimeTrend trend = OnTimeTrend.Of(Enumerable.Range(0, 5).SelectMany(unit => new UnitPeriodShare[] { new(unit, 0, 7, 7), new(unit, 1, 7, 0) }));
        Assert.Null(trend.Change);
        Assert.False(trend.IsClear);
        Assert.Single(trend.Doubts);
    }

    [Fact]
    public void One_week_or_none_has_no_line_and_says_so()
    {
        Assert.Null(OnTimeTrend.Of([]).Start);
        Assert.Null(OnTimeTrend.Of([new(1, 3, 7, 6), new(2, 3, 7, 7)]).Change);
    }

    /// <summary>Nominal 5 %: 400 fleets without a trend whose 30 units differ; a rate above 9 % or below 2 % would be off by 3.5 standard errors.</summary>
    [Fact]
    public void A_fleet_without_a_trend_is_called_one_about_as_often_as_the_level_says()
    {
        var random = new Random(7);
        int called = Enumerable.Range(0, 400).Count(_ => OnTimeTrend.Of(Enumerable.Range(0, 30).SelectMany(unit =>
        {
            double share = 0.7 + (0.28 * random.NextDouble());
            return Enumerable.Range(0, 13).Select(week => new UnitPeriodShare(unit, week, 6, Enumerable.Range(0, 6).Count(_ => random.NextDouble() < share))).ToArray();
        })).IsClear);
        Assert.InRange(called, 8, 36);
    }
}
