using CsCheck;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class RepeatedLooksTests
{
    private static readonly PublishedCheck Published = PublishedChecks.Get("check_order.repeated_looks");
    private static readonly double[] P = PublishedOrders.Numbers(Published.Inputs, "p");

    [Fact]
    public void The_published_looks_are_met()
    {
        DiagnosticCheck[] looks = Looks();
        LookPlan best = RepeatedLooks.Best(P, looks, 10);
        Published.AssertAllClose(best.FirstLooks.Select(look => look + 1.0), "first_ten_looks");
        Published.AssertClose(best.ExpectedMinutes, "expected_minutes");
        int[] all = [0, 1, 2];
        Published.AssertClose(RepeatedLooks.Cycle(P, looks, all).ExpectedMinutes, "catalogue_order_cycled");
        int[] byRatio = [.. all.OrderByDescending(i => P[i] / looks[i].Minutes)];
        Published.AssertClose(RepeatedLooks.Cycle(P, looks, byRatio).ExpectedMinutes, "ratio_order_cycled");
        int[] byDetection = [.. all.OrderByDescending(i => P[i] * (1 - looks[i].Miss) / looks[i].Minutes)];
        Published.AssertClose(RepeatedLooks.Cycle(P, looks, byDetection).ExpectedMinutes, "detectable_ratio_order_cycled");
    }

    /// <summary>A geometric number of looks of one cause: minutes / (1 - miss).</summary>
    [Fact]
    public void One_cause_is_looked_for_until_it_is_found() =>
        Assert.Equal(4 / 0.25, RepeatedLooks.Best([3], [new("a", 4, [0], 0.75)], 2).ExpectedMinutes!.Value, 1e-9);

    [Fact]
    public void What_is_never_found_has_no_expected_minutes()
    {
        Assert.Null(RepeatedLooks.Best([0.5, 0.5], [new("a", 4, [0]), new("b", 4, [1], 1)], 2).ExpectedMinutes);
        Assert.Null(RepeatedLooks.Cycle([0.5, 0.5], [new("a", 4, [0]), new("b", 4, [1])], [0]).ExpectedMinutes);
        Assert.Null(RepeatedLooks.Cycle([1], [new("a", 4, [0])], []).ExpectedMinutes);
    }

    [Fact]
    public void No_cycle_costs_less() => Drawn.Each(RandomCases.OneCheckACause(4, 0.6), 100, sample =>
    {
        double best = RepeatedLooks.Best(sample.Probabilities, sample.Checks, 0).ExpectedMinutes!.Value;
        double cycle = CheckOrderTests.AllOrders([0, 1, 2, 3]).Min(order => RepeatedLooks.Cycle(sample.Probabilities, sample.Checks, order).ExpectedMinutes!.Value);
        Assert.True(best <= cycle * (1 + 1e-9), $"{best} against {cycle}");
    });

    private static DiagnosticCheck[] Looks()
    {
        double[] miss = PublishedOrders.Numbers(Published.Inputs, "miss");
        return [.. PublishedOrders.Numbers(Published.Inputs, "minutes").Select((minutes, i) => new DiagnosticCheck($"{i}", minutes, [i], miss[i]))];
    }
}
