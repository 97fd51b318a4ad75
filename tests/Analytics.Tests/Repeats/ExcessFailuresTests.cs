using CsCheck;
using Washwear.Analytics.Rates;
using Washwear.Analytics.Repeats;

namespace Washwear.Analytics.Tests.Repeats;

public sealed class ExcessFailuresTests
{
    private static readonly Gen<WatchedFailures[]> Rows = Gen
        .Select(Gen.Int[0, 2], Gen.Int[0, 6], Gen.OneOf(Gen.Const(0.0), Gen.Double[0.01, 4]))
        .Array[0, 30]
        .Select(rows => rows.Select((r, i) => new WatchedFailures(i, r.Item1, r.Item2, r.Item3)).ToArray());

    /// <summary>
    /// power_plant_pumps.csv with thousand hours as what is expected: figures of expected.json (posterior) and of R 4.2.2 (pbinom; p.adjust of
    /// these: the sixth 1.2804e-4, the ninth 3.7311e-3, the tenth 3.4227e-15).
    /// </summary>
    [Fact]
    public void The_pumps_that_fail_too_often_are_called()
    {
        CsvRows pumps = PublishedChecks.Csv("power_plant_pumps.csv");
        (double[] failures, double[] hours) = (pumps.Numbers("failures"), pumps.Numbers("thousand_hours"));
        IReadOnlyList<Excess> excess = ExcessFailures.Test([.. failures.Select((f, i) => new WatchedFailures(i, 7, (int)f, hours[i]))]);
        Assert.Equal([5, 8, 9], excess.Where(e => e.Called).Select(e => e.Group));
        Assert.Equal(1.2803627670e-4, excess[5].AdjustedPValue!.Value, 1e-9);
        Assert.Equal(3.73110674e-3, excess[8].AdjustedPValue!.Value, 1e-8);
        PublishedCheck check = PublishedChecks.Get("empirical_bayes.power_plant_pumps");
        check.AssertClose(check.Value("pumps")[9].GetProperty("posterior_mean"), excess[9].Shrunken!.Rate.Value, "tenth");
        Assert.Equal(PoissonRate.Exact(19, hours[5]), excess[5].Ratio);
    }

    /// <summary>By hand: 1 + 3 failures, expected 1 to 1: binomial(4, 1/2) at least 3 = 5/16; x 2 / 1 = 10/16; the other position does not mix in.</summary>
    [Fact]
    public void Positions_are_tested_apart_and_adjusted_together()
    {
        IReadOnlyList<Excess> excess = ExcessFailures.Test(
            [new(1, 1, 3, 1), new(2, 1, 1, 1), new(1, 2, 0, 5), new(2, 2, 0, 5)]);
        Assert.Equal(5.0 / 16, excess[0].PValue!.Value, 12);
        Assert.Equal(15.0 / 16, excess[1].PValue!.Value, 12);
        Assert.Equal(1, excess[2].PValue!.Value, 12);
        Assert.Equal(1, excess[0].AdjustedPValue!.Value, 12); // 5/16 x 4 = 5/4
        Assert.Null(excess[2].Shrunken);
    }

    [Fact]
    public void Where_nothing_was_watched_nothing_is_said()
    {
        Excess alone = Assert.Single(ExcessFailures.Test([new(1, 1, 3, 1)]));
        Assert.Null(alone.PValue);
        Assert.False(alone.Called);
        Assert.NotNull(alone.Ratio);
        IReadOnlyList<Excess> excess = ExcessFailures.Test([new(1, 1, 3, 1e-200), new(2, 1, 0, 1), new(3, 1, 0, 1)]);
        Assert.Null(excess[0].Ratio);
        Assert.Null(excess[0].PValue);
        Assert.Empty(ExcessFailures.Test([]));
    }

    [Fact]
    public void Impossible_rows_are_refused()
    {
        Assert.ThrowsAny<ArgumentException>(() => ExcessFailures.Test([new(1, 1, 3, double.NaN), new(2, 1, 1, 1)]));
        Assert.ThrowsAny<ArgumentException>(() => ExcessFailures.Test([new(1, 1, -3, 1), new(2, 1, 1, 1)]));
        Assert.ThrowsAny<ArgumentException>(() => ExcessFailures.Test([new(1, 1, 3, 1), new(1, 1, 1, 1)]));
        Assert.ThrowsAny<ArgumentException>(() => ExcessFailures.Test([], 0));
    }

    [Fact]
    public void Order_and_a_factor_on_the_model_change_no_call() => Drawn.Each(Gen.Select(Rows, Gen.Int, Gen.Double[0.01, 100]), 300, drawn =>
    {
        (WatchedFailures[] rows, int seed, double factor) = drawn;
        WatchedFailures[] shuffled = [.. rows.Select(r => r with { Expected = r.Expected * factor })];
        new Random(seed).Shuffle(shuffled);
        var other = ExcessFailures.Test(shuffled).ToDictionary(e => e.Group);
        foreach (Excess one in ExcessFailures.Test(rows))
        {
            Assert.Equal(one.PValue is null, other[one.Group].PValue is null);
            Assert.Equal(one.PValue ?? 0, other[one.Group].PValue ?? 0, 1e-9);
            Assert.Equal(one.AdjustedPValue ?? 0, other[one.Group].AdjustedPValue ?? 0, 1e-8);
            Assert.True(one.AdjustedPValue is null || one.AdjustedPValue >= one.PValue - 1e-12);
            Assert.True(one.Shrunken?.ChanceAboveFleet is null or (>= 0 and <= 1));
        }
    });
}
