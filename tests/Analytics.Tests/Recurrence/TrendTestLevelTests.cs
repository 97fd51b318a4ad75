using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

/// <summary>
/// Without trend each test must call one at its level: 5 % of 2000 trials, +/- 4 x 0.49 %, and what an approximation may lack.
/// </summary>
public sealed class TrendTestLevelTests
{
    private const int Trials = 2000;

    [Fact]
    public void Tests_for_a_Poisson_process_hold_where_units_differ_in_rate_and_window()
    {
        var random = new Random(71);
        EventHistory[] Draw() =>
            [.. Enumerable.Range(0, 12).Select(i => SimulatedHistories.Mixed(random, 0.8, 4 + i, i % 3))];
        AssertLevel(Draw, TrendTests.Laplace, 0.03, 0.07);
        AssertLevel(Draw, h => TrendTests.MilitaryHandbook(h), 0.03, 0.07);
        AssertLevel(Draw, h => ReverseArrangements.Test(h).Test, 0.02, 0.07);
        AssertLevel(Draw, h => TrendTests.LewisRobinson(h), 0.02, 0.075);
        AssertLevel(Draw, h => TrendTests.LewisRobinson(h, RecordEnd.ByTime), 0.02, 0.075);
    }

    /// <summary>
    /// The sum of four uniform values lies beyond its mean +/- 1.96 deviations with chance 2 (2 - 1.96/root 3)^4/24 = 4.74 % (Irwin-Hall
    /// law).
    /// </summary>
    [Fact]
    public void Laplaces_normal_approximation_keeps_the_level_with_four_events()
    {
        var random = new Random(76);
        double exact = 2 * Math.Pow(2 - (1.959963984540054 / Math.Sqrt(3)), 4) / 24;
        Assert.InRange(exact, 0.047, 0.0475);
        AssertLevel(
            () => [new(0, 1, [.. new double[4].Select(_ => 1 - random.NextDouble()).Order()])],
            TrendTests.Laplace, exact - 0.019, exact + 0.019);
    }

    [Fact]
    public void Handbook_test_holds_exactly_with_two_events()
    {
        var random = new Random(72);
        AssertLevel(() => [new(5, 9, [.. new[] { 5 + (4 * (1 - random.NextDouble())), 5 + (4 * (1 - random.NextDouble())) }.Order()])],
            h => TrendTests.MilitaryHandbook(h), 0.03, 0.07);
    }

    /// <summary>Every failure returns twice within hours: Laplace's own level is broken by far, the two robust forms hold.</summary>
    [Fact]
    public void Robust_forms_hold_where_failures_come_in_clusters()
    {
        var random = new Random(73);
        EventHistory[] Draw() => [.. Enumerable.Range(0, 30).Select(_ => Clustered(random, SimulatedHistories.Poisson(random, 0.5, 8)))];
        AssertLevel(Draw, TrendTests.Laplace, 0.15, 1);
        AssertLevel(Draw, TrendTests.LaplaceBetweenUnits, 0.03, 0.075);
        AssertLevel(Draw, h => TrendTests.LewisRobinson(h, RecordEnd.ByTime), 0.0, 0.11);
        AssertLevel(Draw, h => TrendTests.LewisRobinson(h), 0.3, 1);
        EventHistory[] DrawOne() => [Clustered(random, SimulatedHistories.Poisson(random, 2, 8))];
        AssertLevel(DrawOne, h => TrendTests.LewisRobinson(h, RecordEnd.ByTime), 0.0, 0.075);
        AssertLevel(DrawOne, TrendTests.Laplace, 0.15, 1);
    }

    [Fact]
    public void Lewis_and_Robinson_holds_for_regular_renewals_of_one_unit()
    {
        var random = new Random(74);
        EventHistory[] Draw()
        {
            double age = 0;
            double[] ages = [.. Enumerable.Range(0, 25).Select(_ => age += MathNet.Numerics.Distributions.Gamma.Sample(random, 4, 4))];
            return [new(0, age, ages)];
        }

        EventHistory[] DrawToday() => [new(0, 20, [.. Draw()[0].Ages.Where(a => a <= 20)])];

        AssertLevel(Draw, h => TrendTests.LewisRobinson(h), 0.03, 0.075);
        AssertLevel(DrawToday, h => TrendTests.LewisRobinson(h, RecordEnd.ByTime), 0.03, 0.075);
        AssertLevel(Draw, h => TrendTests.Laplace(h, RecordEnd.AtEvent), 0, 0.01);
    }

    [Fact]
    public void Variation_of_a_Poisson_process_is_called_at_its_level_and_regular_or_clustered_events_are_found()
    {
        var random = new Random(75);
        int poisson = 0, regular = 0, clustered = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            EventHistory[] even = [.. Enumerable.Range(0, 15).Select(i => SimulatedHistories.Mixed(random, 1, 6, i % 2))];
            poisson += Variation.Of(even).PValue < 0.05 ? 1 : 0;
            double age = 0;
            Variation steady = Variation.Of([new(0, 100, [.. Enumerable.Range(0, 20).Select(_ => age += 1 + random.NextDouble())])]);
            regular += steady.PValue < 0.05 && steady.Coefficient < 1 ? 1 : 0;
            Variation twins = Variation.Of([.. even.Select(h => Clustered(random, h))]);
            clustered += twins.PValue < 0.05 && twins.Coefficient > 1 ? 1 : 0;
        }

        Assert.InRange(poisson / (double)Trials, 0.025, 0.075);
        Assert.InRange(regular / (double)Trials, 0.99, 1);
        Assert.InRange(clustered / (double)Trials, 0.95, 1);
    }

    private static void AssertLevel(
        Func<EventHistory[]> draw, Func<EventHistory[], RecordEnd, TrendTest> test, double least, double most) =>
        AssertLevel(draw, h => test(h, RecordEnd.ByTime), least, most);

    private static void AssertLevel(Func<EventHistory[]> draw, Func<EventHistory[], TrendTest> test, double least, double most)
    {
        int alarms = Enumerable.Range(0, Trials).Count(_ => test(draw()).PTwoSided < 0.05);
        double share = alarms / (double)Trials;
        Assert.True(share >= least && share <= most, $"{share} of trials called a trend, {least} to {most} allowed");
    }

    private static EventHistory Clustered(Random random, EventHistory history) => new(
        history.From,
        history.To,
        [
            .. history.Ages.SelectMany(a => new[] { a, a + (0.01 * random.NextDouble()), a + (0.02 * random.NextDouble()) })
                .Where(a => a <= history.To).Order(),
        ]);
}
