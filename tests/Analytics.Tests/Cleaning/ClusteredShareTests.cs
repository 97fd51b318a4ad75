using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Cleaning;

public sealed class ClusteredShareTests
{
    /// <summary>expected.json, clustered_share.wilson_design_effect: 12 constructed units, computed in R.</summary>
    [Fact]
    public void Twelve_units_give_the_published_bounds()
    {
        PublishedCheck check = PublishedChecks.Get("clustered_share.wilson_design_effect");
        UnitShare[] units =
            [.. check.Rows.Numbers("due").Zip(check.Rows.Numbers("on_time"), (due, kept) => new UnitShare((int)due, (int)kept))];

        ClusteredShare share = ClusteredShare.Of(units);

        Assert.Equal(check.Value("units").GetInt32(), share.Units);
        Assert.Equal(check.Value("due").GetInt32(), share.Due);
        Assert.Equal(check.Value("kept").GetInt32(), share.Kept);
        check.AssertClose(share.Share!.Value, "share");
        check.AssertClose(share.StandardError, "se_ratio");
        check.AssertClose(share.DesignEffect, "design_effect");
        check.AssertClose(share.EffectiveWashes, "effective_n");
        check.AssertClose(share.Share.Lower, "wilson_deff_t_lower");
        check.AssertClose(share.Share.Upper, "wilson_deff_t_upper");
        Estimate naive = ProportionBounds.Wilson(share.Kept, share.Due)!;
        check.AssertClose(naive.Lower, "naive_lower");
        check.AssertClose(naive.Upper, "naive_upper");
    }

    [Fact]
    public void Units_that_all_keep_everything_count_as_one_observation_each()
    {
        ClusteredShare share = ClusteredShare.Of(Enumerable.Repeat(new UnitShare(30, 30), 5));

        Assert.Null(share.DesignEffect);
        Assert.Equal(5, share.EffectiveWashes);
        Assert.Equal(1, share.Share!.Upper);

        // Wilson's lower bound for 5 of 5 with t = 2.776445 on 4 degrees of freedom: 1 / (1 + t^2 / 5).
        Assert.Equal(1 / (1 + (2.7764451052 * 2.7764451052 / 5)), share.Share.Lower!.Value, 8);
        Assert.NotEmpty(share.Doubts);
    }

    [Fact]
    public void Units_more_alike_than_chance_would_have_them_do_not_narrow_the_bounds()
    {
        ClusteredShare share = ClusteredShare.Of(Enumerable.Repeat(new UnitShare(10, 8), 6));

        Assert.Equal(1, share.DesignEffect);
        Assert.Equal(60, share.EffectiveWashes);
    }

    [Fact]
    public void One_unit_gets_plain_bounds_and_a_doubt_and_none_gets_no_share()
    {
        ClusteredShare one = ClusteredShare.Of([new UnitShare(20, 15), new UnitShare(0, 0)]);
        Assert.Equal(ProportionBounds.Wilson(15, 20), one.Share);
        Assert.Single(one.Doubts);
        Assert.Null(ClusteredShare.Of([new UnitShare(0, 0)]).Share);
    }

    [Fact]
    public void More_kept_than_due_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ClusteredShare.Of([new UnitShare(3, 4)]));
}
