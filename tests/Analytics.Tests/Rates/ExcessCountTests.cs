using CsCheck;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class ExcessCountTests
{
    /// <summary>R 4.2.2: pbinom(x - 1, sum(x), t / sum(t), lower.tail = FALSE) on power_plant_pumps.csv.</summary>
    [Fact]
    public void The_pumps_agree_with_the_reference_program()
    {
        double[] expected =
        [
            9.999984117e-01, 9.679245228e-01, 9.986982403e-01, 9.996753268e-01, 1.027055560e-01, 2.560725534e-05, 2.016303217e-01,
            2.016303217e-01, 1.119332023e-03, 3.422668650e-16,
        ];
        CsvRows pumps = PublishedChecks.Csv("power_plant_pumps.csv");
        IReadOnlyList<double?> got = ExcessCount.PValues([.. pumps.Numbers("failures").Select(x => (int)x)], pumps.Numbers("thousand_hours"));
        Assert.Equal(expected.Length, got.Count);
        for (int i = 0; i < expected.Length; i++)
        {
            Assert.Equal(expected[i], got[i]!.Value, 1e-6 * expected[i]);
        }
    }

    [Fact]
    public void A_unit_without_exposure_or_without_others_is_not_compared()
    {
        IReadOnlyList<double?> got = ExcessCount.PValues([1, 2, 0], [1.0, 0.0, 1.0]);
        Assert.Equal(0.5, got[0]!.Value, 12);
        Assert.Null(got[1]);
        Assert.Equal(1, got[2]!.Value);
        Assert.Equal([null, null], ExcessCount.PValues([4, 2], [1.0, 0.0]));
        Assert.Empty(ExcessCount.PValues([], []));
    }

    [Fact]
    public void The_one_failure_of_a_fleet_is_not_impossible() =>
        Assert.Equal(0.25, ExcessCount.PValues([1, 0, 0, 0], [1.0, 1.0, 1.0, 1.0])[0]!.Value, 12);

    [Fact]
    public void Order_is_kept_and_one_more_event_lowers_the_chance() => Gen
        .Select(Gen.Select(Gen.Int[0, 9], Gen.Double[0.01, 5]).Array[2, 30], Gen.Int)
        .Sample((units, seed) =>
        {
            int[] order = [.. Enumerable.Range(0, units.Length)];
            new Random(seed).Shuffle(order);
            IReadOnlyList<double?> one = Of(units), other = Of([.. order.Select(i => units[i])]);
            for (int i = 0; i < order.Length; i++)
            {
                Assert.Equal(one[order[i]], other[i]);
            }

            (int, double)[] worse = [.. units];
            worse[0].Item1++;
            Assert.True(Of(worse)[0] <= one[0] + 1e-12);
        });

    private static IReadOnlyList<double?> Of((int Count, double Exposure)[] units) =>
        ExcessCount.PValues([.. units.Select(u => u.Count)], [.. units.Select(u => u.Exposure)]);
}
