using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>Kept forecasts, against cases worked out by hand, exact binomial tails and chances whose truth is known.</summary>
public sealed class ForecastScoreTests
{
    /// <summary>Two at 1/10 of which none, two at 1/2 of which one, one at 9/10 that happened.</summary>
    private static readonly ForecastCase[] Five = [new(0.1, false), new(0.1, false), new(0.5, true), new(0.5, false), new(0.9, true)];

    /// <summary>By hand: squares 0.01 + 0.01 + 0.25 + 0.25 + 0.01 = 0.53, over 5.</summary>
    [Fact]
    public void Brier_is_taken_apart_as_by_hand()
    {
        BrierParts brier = ForecastScore.Of(Five, new ForecastScoreOptions { Edges = [0, 0.3, 0.7, 1] }).Brier!;
        Assert.Equal(0.106, brier.Score, 1e-12);
        Assert.Equal(((2 * 0.01) + 0 + 0.01) / 5, brier.Reliability, 1e-12);
        Assert.Equal(((2 * 0.16) + (2 * 0.01) + 0.36) / 5, brier.Resolution, 1e-12);
        Assert.Equal(0.24, brier.Uncertainty, 1e-12);
        Assert.Equal(0, brier.WithinBands, 1e-12);
    }

    /// <summary>By hand: (-0.1)(0.8) twice, 0 twice, (0.1)(-0.8): -0.24; variance 3 x 0.09 x 0.64 = 0.1728.</summary>
    [Fact]
    public void Spiegelhalters_z_is_as_by_hand() =>
        Assert.Equal(-0.24 / Math.Sqrt(0.1728), ForecastScore.Of(Five).SpiegelhalterZ!.Value, 1e-12);

    /// <summary>Ten at 0.2 and eight happened: P(at least 8 of 10) = 45 x 0.2^8 x 0.8^2 + 10 x 0.2^9 x 0.8 + 0.2^10 = 7.79264e-5.</summary>
    [Fact]
    public void Tails_are_the_binomial_ones_where_chances_are_alike()
    {
        ForecastScoring scoring = ForecastScore.Of([.. Enumerable.Range(0, 10).Select(i => new ForecastCase(0.2, i < 8))]);
        Assert.Equal(7.79264e-5, scoring.ChanceOfSoMany, 1e-14);
        Assert.Equal(1 - (10 * Math.Pow(0.2, 9) * 0.8) - Math.Pow(0.2, 10), scoring.ChanceOfSoFew, 1e-12);
        Assert.Equal(2, scoring.Expected, 1e-12);
        Assert.Equal(ForecastVerdict.SaidTooLow, scoring.Verdict);
        Assert.Equal(ForecastVerdict.SaidTooLow, Assert.Single(scoring.Bands).Verdict);
    }

    [Theory]
    [InlineData(0.3, 100, 30, ForecastVerdict.Fits)]
    [InlineData(0.3, 100, 10, ForecastVerdict.SaidTooHigh)]
    [InlineData(0.3, 100, 50, ForecastVerdict.SaidTooLow)]
    [InlineData(0.01, 100, 1, ForecastVerdict.TooFewToSay)]
    [InlineData(0.01, 100, 8, ForecastVerdict.SaidTooLow)]
    [InlineData(0.99, 100, 99, ForecastVerdict.TooFewToSay)]
    public void Verdicts_follow_from_what_happened(double said, int count, int happened, ForecastVerdict verdict)
    {
        ForecastScoring scoring = ForecastScore.Of([.. Enumerable.Range(0, count).Select(i => new ForecastCase(said, i < happened))]);
        Assert.Equal(verdict, scoring.Verdict);
    }

    [Fact]
    public void Bands_hold_their_lower_edge_and_the_last_one_also_1()
    {
        ForecastScoring scoring = ForecastScore.Of([new(0, false), new(0.02, false), new(0.4, true), new(1, true)]);
        Assert.Equal([(0.0, 1), (0.02, 1), (0.4, 2)], scoring.Bands.Select(b => (b.From, b.Count)));
        Assert.Equal(4, scoring.Bands.Sum(b => b.Count));
        Assert.Equal(2, scoring.Bands[^1].Happened);
        Assert.Equal(0.7, scoring.Bands[^1].MeanSaid, 1e-12);
        Assert.Equal(1, scoring.Bands[^1].Share!.Value);
    }

    [Fact]
    public void No_forecast_says_nothing()
    {
        ForecastScoring scoring = ForecastScore.Of([]);
        Assert.Equal(ForecastVerdict.TooFewToSay, scoring.Verdict);
        Assert.Null(scoring.Brier);
        Assert.Null(scoring.SpiegelhalterZ);
        Assert.Empty(scoring.Bands);
    }

    [Fact]
    public void Certain_chances_have_no_z() => Assert.Null(ForecastScore.Of([new(0, false), new(1, true), new(0.5, true)]).SpiegelhalterZ);

    /// <summary>Right chances are called wrong in at most the share of fleets that the level allows; chances a half too low nearly always.</summary>
    [Fact]
    public void Right_chances_pass_and_wrong_ones_are_found()
    {
        var random = new Random(20261126);
        int rightCalledWrong = 0, zCalledWrong = 0, wrongFound = 0;
        for (int fleet = 0; fleet < 400; fleet++)
        {
            double[] truth = [.. Enumerable.Range(0, 300).Select(_ => 0.3 * Math.Pow(random.NextDouble(), 2))];
            bool[] happened = [.. truth.Select(p => random.NextDouble() < p)];
            ForecastScoring right = ForecastScore.Of([.. truth.Select((p, i) => new ForecastCase(p, happened[i]))]);
            ForecastScoring wrong = ForecastScore.Of([.. truth.Select((p, i) => new ForecastCase(p / 2, happened[i]))]);
            rightCalledWrong += right.Verdict == ForecastVerdict.Fits ? 0 : 1;
            zCalledWrong += right.ChanceOfZ < 0.05 ? 1 : 0;
            wrongFound += wrong.Verdict == ForecastVerdict.SaidTooLow ? 1 : 0;
        }

        // 400 x 0.05 = 20 at most; five standard deviations above is 42.
        Assert.InRange(rightCalledWrong, 0, 42);
        Assert.InRange(zCalledWrong, 2, 42);
        Assert.InRange(wrongFound, 360, 400);
    }

    [Fact]
    public void What_is_no_chance_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ForecastScore.Of([new(1.1, true)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => ForecastScore.Of([new(double.NaN, true)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => ForecastScore.Of([], new ForecastScoreOptions { Level = 1 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => ForecastScore.Of([], new ForecastScoreOptions { Edges = [0, 0.5, 0.4, 1] }));
    }
}
