using System.Text.Json;
using CsCheck;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class GammaPoissonTests
{
    private static readonly PublishedCheck Pumps = PublishedChecks.Get("empirical_bayes.power_plant_pumps");

    private static readonly Gen<(int Count, double Exposure)[]> Fleets = Gen
        .Select(Gen.Int[0, 12], Gen.Double[0.01, 5], (count, exposure) => (count, exposure)).Array[2, 40];

    [Fact]
    public void The_pumps_spread_is_met()
    {
        FleetRate fleet = PumpFleet();
        RateSpread spread = fleet.Spread!;
        Pumps.AssertClose(spread.Shape, "a");
        Pumps.AssertClose(spread.Rate, "b");
        Pumps.AssertClose(spread.LogLikelihood, "loglik");
        Pumps.AssertClose(spread.ShapeStandardError, "se_a");
        Pumps.AssertClose(spread.RateStandardError, "se_b");
        Pumps.AssertClose(spread.Mean, "prior_mean");
        Pumps.AssertClose(fleet.PooledLogLikelihood, "common_rate_loglik");
        FleetRate unrounded = GammaPoisson.Fit(Counts(), [94.32, 15.72, 62.88, 125.76, 5.24, 31.44, 1.048, 1.048, 2.096, 10.48]);
        Pumps.AssertClose(unrounded.Spread!.Shape, "variant_unrounded_hours", "a");
        Pumps.AssertClose(unrounded.Spread.Rate, "variant_unrounded_hours", "b");
    }

    /// <summary>
    /// Figures of each pump: expected.json. Chance above the mean and above twice the mean: R 4.2.2, pgamma(k a/b, a + x, rate = b + t,
    /// lower.tail = FALSE) at the a and b of expected.json.
    /// </summary>
    [Fact]
    public void Each_pumps_rate_is_met()
    {
        double[] above =
        [
            4.674029335e-21, 1.296467536e-04, 5.595538395e-13, 6.596728992e-21, 3.533033329e-01, 3.447991730e-01, 4.982628584e-01,
            4.982628584e-01, 9.146490045e-01, 9.999927644e-01,
        ];
        double[] aboveTwice =
        [
            1.078603203e-46, 3.471465512e-09, 9.937761274e-30, 7.736912793e-53, 2.532143057e-02, 3.552798307e-05, 1.634485446e-01,
            1.634485446e-01, 5.207049609e-01, 9.561069567e-01,
        ];
        FleetRate fleet = PumpFleet();
        (int[] counts, double[] exposures) = (Counts(), Pumps.Rows.Numbers("thousand_hours"));
        JsonElement[] expected = [.. Pumps.Value("pumps").EnumerateArray()];
        Assert.Equal(10, expected.Length);
        for (int i = 0; i < expected.Length; i++)
        {
            UnitRate unit = fleet.Posterior(counts[i], exposures[i])!;
            Pumps.AssertClose(expected[i].GetProperty("posterior_mean"), unit.Rate.Value, $"{i} mean");
            Pumps.AssertClose(expected[i].GetProperty("posterior_sd"), unit.StandardDeviation, $"{i} sd");
            Pumps.AssertClose(expected[i].GetProperty("lower_95"), unit.Rate.Lower, $"{i} lower");
            Pumps.AssertClose(expected[i].GetProperty("upper_95"), unit.Rate.Upper, $"{i} upper");
            Assert.Equal(above[i], unit.ChanceAboveFleet!.Value, 1e-5 * above[i]);
            Assert.Equal(aboveTwice[i], fleet.Posterior(counts[i], exposures[i], 0.95, 2)!.ChanceAboveFleet!.Value, 1e-5 * aboveTwice[i]);
            Assert.True(unit.StandardDeviationWithSpread > unit.StandardDeviation);
        }
    }

    /// <summary>Equal exposures: the maximum is finite only if the variance exceeds the mean (Levin and Reeds 1977, Annals of Statistics 5, 79).</summary>
    [Theory]
    [InlineData(new[] { 2, 2, 2, 2, 2, 2 }, false)]
    [InlineData(new[] { 1, 2, 3, 2, 1, 3 }, false)]
    [InlineData(new[] { 0, 0, 1, 0, 0, 0 }, false)]
    [InlineData(new[] { 0, 0, 2, 0, 0, 0 }, true)]
    [InlineData(new[] { 0, 4, 0, 5, 0, 6 }, true)]
    public void Difference_is_shown_only_where_counts_vary_more_than_by_chance(int[] counts, bool shown)
    {
        double mean = counts.Average(), variance = counts.Average(c => (c - mean) * (c - mean));
        Assert.Equal(variance > mean, shown);
        FleetRate fleet = GammaPoisson.Fit(counts, [.. counts.Select(_ => 2.0)]);
        Assert.Equal(shown, fleet.ShowsDifference);
        Assert.True(shown ? fleet.SameRatePValue < 0.5 : fleet.SameRatePValue == 1);
    }

    [Fact]
    public void Where_no_difference_is_shown_each_unit_has_the_pooled_rate()
    {
        FleetRate fleet = GammaPoisson.Fit([2, 2, 2], [1.0, 1.0, 1.0]);
        UnitRate unit = fleet.Posterior(0, 0.1)!;
        Assert.Equal(fleet.PooledRate, unit.Rate);
        Assert.Null(unit.ChanceAboveFleet);
        Assert.Null(unit.StandardDeviation);
    }

    [Fact]
    public void Units_without_exposure_are_left_out_and_counted()
    {
        FleetRate fleet = GammaPoisson.Fit([.. Counts(), 7, 0], [.. Pumps.Rows.Numbers("thousand_hours"), 0, 0]);
        Assert.Equal((10, 2), (fleet.Units, fleet.LeftOut));
        Pumps.AssertClose(fleet.Spread!.Shape, "a");
        Assert.Contains(fleet.Doubts, d => d.StartsWith("2 that were not watched", StringComparison.Ordinal));
    }

    [Fact]
    public void Nothing_observed_gives_no_rate_and_no_events_the_bound_alone()
    {
        Assert.Null(GammaPoisson.Fit([], []).PooledRate);
        Assert.Null(GammaPoisson.Fit([3], [0.0]).Posterior(1, 1));
        FleetRate none = GammaPoisson.Fit([0, 0, 0], [1.0, 2.0, 3.0]);
        Assert.False(none.ShowsDifference);
        Assert.Equal((0.0, 3.688879454 / 6), (none.PooledRate!.Value, Math.Round(none.PooledRate.Upper!.Value, 10)), new Close(1e-9));
        Assert.NotEmpty(none.Doubts);
    }

    [Fact]
    public void Order_of_the_units_and_unit_of_exposure_do_not_matter() => Drawn.Each(Gen.Select(Fleets, Gen.Int, Gen.Double[0.001, 1000]), 300, drawn =>
    {
        ((int Count, double Exposure)[] units, int seed, double scale) = drawn;
        (int Count, double Exposure)[] shuffled = [.. units];
        new Random(seed).Shuffle(shuffled);
        FleetRate one = Fit(units), other = Fit([.. shuffled.Select(u => (u.Count, u.Exposure * scale))]);
        Assert.Equal(one.Events, other.Events);
        if (one.Spread is { Shape: < 1000 } spread)
        {
            Assert.Equal(spread.Shape, other.Spread!.Shape, 1e-6 * spread.Shape);
            Assert.Equal(spread.Rate * scale, other.Spread.Rate, 1e-6 * spread.Rate * scale);
        }
    });

    [Fact]
    public void A_units_rate_lies_between_its_own_and_the_fleets_and_falls_with_exposure() => Drawn.Each(Fleets, 300, units =>
    {
        if (Fit(units) is { Spread: { } spread } fleet)
        {
            foreach ((int count, double exposure) in units)
            {
                UnitRate unit = fleet.Posterior(count, exposure)!;
                (double raw, double mean) = (count / exposure, spread.Mean);
                Assert.InRange(unit.Rate.Value, Math.Min(raw, mean) * (1 - 1e-9), Math.Max(raw, mean) * (1 + 1e-9));
                UnitRate longer = fleet.Posterior(count, exposure * 1.5)!;
                Assert.True(longer.Rate.Value < unit.Rate.Value);
                Assert.True(longer.ChanceAboveFleet <= unit.ChanceAboveFleet);
                Assert.True(unit.Rate.Lower >= 0 && unit.Rate.Lower < unit.Rate.Upper && double.IsFinite(unit.Rate.Upper!.Value));
                Assert.True(fleet.Posterior(count + 1, exposure)!.ChanceAboveFleet >= unit.ChanceAboveFleet);
            }
        }
    });

    /// <summary>The maximum found is one: no point of a fine net around it is likelier, by the plain negative binomial formula.</summary>
    [Fact]
    public void Nothing_near_the_maximum_is_likelier() => Drawn.Each(Fleets, 100, units =>
    {
        if (Fit(units).Spread is { Shape: < 1e4 } spread)
        {
            Assert.Equal(NegativeBinomial(units, spread.Shape, spread.Rate), spread.LogLikelihood, 1e-8);
            foreach (double da in new[] { 0.5, 0.97, 0.999, 1, 1.001, 1.03, 2 })
            {
                foreach (double db in new[] { 0.5, 0.97, 0.999, 1, 1.001, 1.03, 2 })
                {
                    Assert.True(NegativeBinomial(units, spread.Shape * da, spread.Rate * db) <= spread.LogLikelihood + 1e-9);
                }
            }
        }
    });

    [Theory]
    [InlineData(new[] { 1 }, new[] { -1.0 })]
    [InlineData(new[] { -1 }, new[] { 1.0 })]
    [InlineData(new[] { 1 }, new[] { double.NaN })]
    [InlineData(new[] { 1_000_001 }, new[] { 1.0 })]
    [InlineData(new[] { 1, 2 }, new[] { 1.0 })]
    public void Impossible_numbers_are_refused(int[] counts, double[] exposures) =>
        Assert.ThrowsAny<ArgumentException>(() => GammaPoisson.Fit(counts, exposures));

    [Fact]
    public void Extreme_fleets_leave_no_undefined_number()
    {
        foreach ((int[] counts, double[] exposures) in new[]
        {
            (new[] { 1_000_000, 0, 0, 0 }, new[] { 1e-90, 1e90, 1e90, 1.0 }),
            ([1, .. new int[500]], [1e-6, .. Enumerable.Repeat(1e6, 500)]),
            ([1, 1], [1e-100, 1e100]),
            ([500_000, 0], [1.0, 1.0]),
        })
        {
            FleetRate fleet = GammaPoisson.Fit(counts, exposures);
            UnitRate unit = fleet.Posterior(counts[0], exposures[0])!;
            Assert.All(
                new[] { unit.Rate.Value, unit.Rate.Lower, unit.Rate.Upper, unit.StandardDeviation, unit.StandardDeviationWithSpread, unit.ChanceAboveFleet, fleet.SameRatePValue },
                value => Assert.True(value is null || double.IsFinite(value.Value)));
        }
    }

    private static double NegativeBinomial((int Count, double Exposure)[] units, double a, double b) => units.Sum(u =>
        MathNet.Numerics.SpecialFunctions.GammaLn(a + u.Count) - MathNet.Numerics.SpecialFunctions.GammaLn(a)
        - MathNet.Numerics.SpecialFunctions.GammaLn(u.Count + 1.0) + (a * Math.Log(b / (b + u.Exposure)))
        + (u.Count == 0 ? 0 : u.Count * Math.Log(u.Exposure / (b + u.Exposure))));

    private static FleetRate Fit((int Count, double Exposure)[] units) =>
        GammaPoisson.Fit([.. units.Select(u => u.Count)], [.. units.Select(u => u.Exposure)]);

    private static int[] Counts() => [.. Pumps.Rows.Numbers("failures").Select(x => (int)x)];

    private static FleetRate PumpFleet() => GammaPoisson.Fit(Counts(), Pumps.Rows.Numbers("thousand_hours"));

    private sealed class Close(double within) : IEqualityComparer<(double, double)>
    {
        public bool Equals((double, double) x, (double, double) y) =>
            Math.Abs(x.Item1 - y.Item1) <= within && Math.Abs(x.Item2 - y.Item2) <= within;

        public int GetHashCode((double, double) obj) => 0;
    }
}
