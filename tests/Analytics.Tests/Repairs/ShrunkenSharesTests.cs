using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repairs;

namespace Washwear.Analytics.Tests.Repairs;

public sealed class ShrunkenSharesTests
{
    // Hits of 18 batters in their first 45 times at bat, 1970: Efron and Morris (1975) J. American Statistical Association 70, 311, Table 1.
    private static readonly int[] Hits = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7];

    // The 71 experiments of Tarone (1982), as printed in Gelman and others, Bayesian Data Analysis, Table 5.1; the last is the new one, 4 of 14.
    private static readonly (int Count, int Cases)[] Tumours =
    [
        (0, 20), (0, 20), (0, 20), (0, 20), (0, 20), (0, 20), (0, 20), (0, 19), (0, 19), (0, 19), (0, 19), (0, 18), (0, 18), (0, 17), (1, 20),
        (1, 20), (1, 20), (1, 20), (1, 19), (1, 19), (1, 18), (1, 18), (2, 25), (2, 24), (2, 23), (2, 20), (2, 20), (2, 20), (2, 20), (2, 20),
        (2, 20), (1, 10), (5, 49), (2, 19), (5, 46), (3, 27), (2, 17), (7, 49), (7, 47), (3, 20), (3, 20), (2, 13), (9, 48), (10, 50), (4, 20),
        (4, 20), (4, 20), (4, 20), (4, 20), (4, 20), (4, 20), (10, 48), (4, 19), (4, 19), (4, 19), (5, 22), (11, 46), (12, 49), (5, 20), (5, 20),
        (6, 23), (5, 19), (6, 22), (6, 20), (6, 20), (6, 20), (16, 52), (15, 47), (15, 46), (9, 24), (4, 14),
    ];

    // R 4.2.2: the same model by integrate(), pbeta() and uniroot(), to six decimals.
    [Theory]
    [InlineData(0, 0.290251, 0.240897, 0.385436)]
    [InlineData(1, 0.286153, 0.236624, 0.375209)]
    [InlineData(6, 0.269758, 0.213754, 0.337139)]
    [InlineData(17, 0.245167, 0.165478, 0.294526)]
    public void Batting_averages_agree_with_the_same_model_in_R(int index, double value, double lower, double upper)
    {
        Estimate drawn = ShrunkenShares.Of([.. Hits.Select(hits => (hits, 45))])[index]!;
        Same(value, lower, upper, drawn);
    }

    [Theory]
    [InlineData(0, 0.067146, 0.007875, 0.169493)]
    [InlineData(67, 0.277285, 0.173902, 0.396673)]
    [InlineData(69, 0.287672, 0.158329, 0.443872)]
    [InlineData(70, 0.216505, 0.090569, 0.384370)]
    public void Tumour_shares_agree_with_the_same_model_in_R(int index, double value, double lower, double upper) =>
        Same(value, lower, upper, ShrunkenShares.Of(Tumours)[index]!);

    // Efron and Morris (1977) Scientific American 236, 119: z = 0.265 + 0.212 (y - 0.265). Another method, so to four thousandths only.
    [Fact]
    public void Batting_averages_are_drawn_as_far_as_the_published_example_draws_them()
    {
        IReadOnlyList<Estimate?> drawn = ShrunkenShares.Of([.. Hits.Select(hits => (hits, 45))]);
        Assert.All(Hits.Zip(drawn), pair => Assert.Equal(0.265 + (0.212 * ((pair.First / 45.0) - 0.265)), pair.Second!.Value, 0.004));
    }

    // BDA, section 5.1: the new experiment's 4 of 14 is drawn towards the history's 14 %; the book's quick estimate is 0.223.
    [Fact]
    public void The_new_experiment_lies_near_the_books_quick_estimate() =>
        Assert.Equal(0.223, ShrunkenShares.Of(Tumours)[70]!.Value, 0.01);

    [Fact]
    public void Nothing_to_compare_gives_no_share()
    {
        Assert.Empty(ShrunkenShares.Of([]));
        Assert.All(ShrunkenShares.Of([(0, 0), (0, 5)]), Assert.Null);
        Assert.All(ShrunkenShares.Of([(5, 5), (9, 9)]), Assert.Null);
        Assert.Throws<ArgumentOutOfRangeException>(() => ShrunkenShares.Of([(6, 5)]));
    }

    [Fact]
    public void A_group_without_cases_stands_at_the_mean()
    {
        IReadOnlyList<Estimate?> drawn = ShrunkenShares.Of([(30, 40), (20, 60), (0, 0)]);
        Assert.Equal(0.5, drawn[2]!.Value, 1e-12);
        Assert.InRange(drawn[0]!.Value, 0.5, 0.75);
        Assert.InRange(drawn[1]!.Value, 1.0 / 3, 0.5);
    }

    private static void Same(double value, double lower, double upper, Estimate drawn)
    {
        Assert.Equal(value, drawn.Value, 2e-6);
        Assert.Equal(lower, drawn.Lower!.Value, 1e-5);
        Assert.Equal(upper, drawn.Upper!.Value, 1e-5);
    }
}
