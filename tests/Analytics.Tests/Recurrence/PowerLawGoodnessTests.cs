using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class PowerLawGoodnessTests
{
    /// <summary>Simulated again with the code's own statistic, the published points come out to their tolerance of 1 %.</summary>
    [Fact]
    public void Upper_points_are_the_published_ones_and_come_out_again_when_simulated()
    {
        PublishedCheck check = PublishedChecks.Get("power_law.cramer_von_mises_upper_points");
        int[] sizes = [.. check.Inputs.GetProperty("m").EnumerateArray().Select(m => m.GetInt32())];
        Assert.Equal(sizes, PowerLawGoodnessTest.UpperPoints.Select(p => p.Events));
        double[][] simulated = new double[sizes.Length][];
        Parallel.For(0, sizes.Length, i => simulated[i] = Simulate(new Random(90 + i), sizes[i], 300_000));
        string[] names = ["upper_10", "upper_05", "upper_01"];
        for (int point = 0; point < names.Length; point++)
        {
            check.AssertAllClose(simulated.Select(s => s[point]), names[point]);
        }

        check.AssertAllClose(PowerLawGoodnessTest.UpperPoints.Select(p => p.Upper10), "upper_10");
        check.AssertAllClose(PowerLawGoodnessTest.UpperPoints.Select(p => p.Upper05), "upper_05");
        check.AssertAllClose(PowerLawGoodnessTest.UpperPoints.Select(p => p.Upper01), "upper_01");
    }

    [Fact]
    public void Between_tabled_sizes_points_lie_between_and_below_five_there_are_none()
    {
        EventHistory unit = new(0, 10, [1, 2, 3, 5, 6, 8, 9]);
        PowerLawGoodness seven = PowerLawGoodnessTest.Of([unit])!;
        Assert.Equal((7, 0), (seven.Events, seven.UnitsLeftOut));

        // 1/7 lies 4/7 of the way from 1/5 to 1/10.
        Assert.Equal(0.1597025055 + (4 / 7.0 * (0.167684329 - 0.1597025055)), seven.Upper10!.Value, 1e-12);
        Assert.Equal((0.10, 1.0), (seven.PAtLeast!.Value, seven.PAtMost!.Value));
        PowerLawGoodness four = PowerLawGoodnessTest.Of([new(0, 10, [1, 2, 3, 5]), new(2, 10, [4])])!;
        Assert.Equal((4, 1, null), (four.Events, four.UnitsLeftOut, four.PAtLeast));
        Assert.Null(PowerLawGoodnessTest.Of([new(0, 10, [1])]));
        Assert.Null(PowerLawGoodnessTest.Of([new(0, 10, [10, 10])]));
    }

    [Fact]
    public void Events_in_two_lumps_do_not_fit()
    {
        double[] lumps = [.. Enumerable.Range(0, 10).Select(i => 4 + (i * 0.001)), .. Enumerable.Range(0, 10).Select(i => 9 + (i * 0.001))];
        PowerLawGoodness goodness = PowerLawGoodnessTest.Of([new(0, 10, lumps)])!;
        Assert.Equal((0.0, 0.01), (goodness.PAtLeast!.Value, goodness.PAtMost!.Value));
    }

    private static double[] Simulate(Random random, int m, int draws)
    {
        double[] found = new double[draws];
        double[] ages = new double[m];
        for (int draw = 0; draw < draws; draw++)
        {
            for (int i = 0; i < m; i++)
            {
                ages[i] = 1 - random.NextDouble();
            }

            Array.Sort(ages);
            found[draw] = PowerLawGoodnessTest.Of([new EventHistory(0, 1, ages)])!.Statistic;
        }

        Array.Sort(found);
        return [found[(int)(0.9 * draws)], found[(int)(0.95 * draws)], found[(int)(0.99 * draws)]];
    }
}
