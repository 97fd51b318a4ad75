using System.Text.Json;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class CheckOrderTests
{
    private static readonly PublishedCheck Perfect = PublishedChecks.Get("check_order.perfect_checks");
    private static readonly PublishedCheck Imperfect = PublishedChecks.Get("check_order.misses_and_false_alarms");

    [Fact]
    public void Five_published_checks_are_covered() => Assert.Equal(
        [
            "check_order.bayes_updates", "check_order.misses_and_false_alarms", "check_order.parts_to_bring", "check_order.perfect_checks",
            "check_order.repeated_looks",
        ],
        PublishedChecks.Ids("check_order."));

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void The_published_orders_of_perfect_checks_are_met(int row)
    {
        JsonElement expected = Perfect.Expected[row];
        OrderProblem problem = PerfectProblem(expected, sparesTheLast: false);
        double[] p = [.. problem.Probabilities];
        int[] all = [.. Enumerable.Range(0, p.Length)];
        OrderedChecks best = CheckOrder.Best(problem);
        OrderedChecks byIndex = CheckOrder.ByIndex(problem);
        Perfect.AssertClose(expected.GetProperty("expected_minutes"), best.Cost.ExpectedMinutes, "best");
        Perfect.AssertClose(expected.GetProperty("expected_minutes"), byIndex.Cost.ExpectedMinutes, "by index");
        Assert.True(best.Exact && byIndex.Exact);
        Assert.Equal(0, best.Cost.ChanceOfSecondVisit, 1e-12);
        AssertCost(expected, "catalogue_order_minutes", problem, all);
        AssertCost(expected, "most_likely_first_minutes", problem, all.OrderByDescending(i => p[i]));
        AssertCost(expected, "cheapest_first_minutes", problem, all.OrderBy(i => problem.Checks[i].Minutes));
        double[] costs = [.. AllOrders(all).Select(order => CheckOrder.CostOf(problem, order).ExpectedMinutes)];
        Perfect.AssertClose(expected.GetProperty("worst_order_minutes"), costs.Max(), "worst");
        Assert.Equal(
            expected.GetProperty("number_of_best_orders").GetInt32(), costs.Count(cost => cost < best.Cost.ExpectedMinutes * (1 + 1e-12)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void The_published_orders_that_spare_the_last_check_are_met(int row)
    {
        JsonElement expected = Perfect.Expected[row].GetProperty("last_check_spared");
        OrderProblem problem = PerfectProblem(Perfect.Expected[row], sparesTheLast: true);
        Perfect.AssertClose(expected.GetProperty("best_minutes"), CheckOrder.Best(problem).Cost.ExpectedMinutes, "best");
        int[] ratio = [.. Perfect.Expected[row].GetProperty("order").EnumerateArray().Select(check => check.GetInt32() - 1)];
        AssertCost(expected, "ratio_order_minutes", problem, ratio);
    }

    [Fact]
    public void The_published_orders_with_misses_and_false_alarms_are_met()
    {
        OrderProblem problem = ImperfectProblem();
        OrderedChecks best = CheckOrder.Best(problem);
        Imperfect.AssertClose(best.Cost.ExpectedMinutes, "best_minutes");
        Imperfect.AssertClose(best.Cost.ChanceOfSecondVisit, "probability_of_second_visit");
        Imperfect.AssertAllClose(best.Order.Select(check => check + 1.0), "best_order");
        OrderedChecks byIndex = CheckOrder.ByIndex(problem);
        Imperfect.AssertClose(byIndex.Cost.ExpectedMinutes, "index_order_minutes");
        Imperfect.AssertAllClose(byIndex.Order.Select(check => check + 1.0), "index_order");
        int[] ratio = [.. Imperfect.Value("ratio_order").EnumerateArray().Select(check => check.GetInt32() - 1)];
        Imperfect.AssertClose(CheckOrder.CostOf(problem, ratio).ExpectedMinutes, "ratio_order_minutes");
        double[] costs = [.. AllOrders([0, 1, 2, 3, 4, 5]).Select(order => CheckOrder.CostOf(problem, order).ExpectedMinutes)];
        Imperfect.AssertClose(CheckOrder.CostOf(problem, [0, 1, 2, 3, 4, 5]).ExpectedMinutes, "catalogue_order_minutes");
        Imperfect.AssertClose(costs.Max(), "worst_minutes");
    }

    [Fact]
    public void Something_else_keeps_its_probability_and_no_check_is_spared()
    {
        DiagnosticCheck[] checks = [new("a", 5, [0]), new("b", 3, [1])];
        OrderCost cost = CheckOrder.CostOf(new OrderProblem([0.5, 0.3], checks, null, 100, sparesTheLast: true), [0, 1]);
        Assert.Equal((0.5 * 5) + (0.5 * 8) + (0.2 * 100), cost.ExpectedMinutes, 1e-12);
        Assert.Equal(0.2, cost.ChanceOfSecondVisit, 1e-12);
    }

    [Fact]
    public void One_check_or_none_is_an_order_too()
    {
        OrderedChecks none = CheckOrder.Best(new OrderProblem([1], [], null, 240));
        Assert.Empty(none.Order);
        Assert.Equal(new OrderCost(240, 1), none.Cost);
        OrderedChecks one = CheckOrder.Best(new OrderProblem([1], [new("a", 5, [0], 0.1)], [20], 240));
        Assert.Equal(5 + (0.9 * 20) + (0.1 * 240), one.Cost.ExpectedMinutes, 1e-12);
        Assert.Equal(0, CheckOrder.Best(new OrderProblem([1], [new("a", 5, [0])], sparesTheLast: true)).Cost.ExpectedMinutes);
    }

    [Fact]
    public void Impossible_problems_are_refused()
    {
        DiagnosticCheck check = new("a", 1, [0]);
        Assert.ThrowsAny<ArgumentException>(() => new OrderProblem([], []));
        Assert.ThrowsAny<ArgumentException>(() => new OrderProblem([0.7, 0.7], []));
        Assert.ThrowsAny<ArgumentException>(() => new OrderProblem([1], [new("a", 1, [1])]));
        Assert.ThrowsAny<ArgumentException>(() => new OrderProblem([1], [check], [1, 2]));
        Assert.ThrowsAny<ArgumentException>(() => new OrderProblem([1], [check], [double.NaN]));
        Assert.ThrowsAny<ArgumentException>(() => CheckOrder.CostOf(new OrderProblem([1], [check]), [0, 0]));
    }

    internal static OrderProblem ImperfectProblem()
    {
        double[] Input(string name) => PublishedOrders.Numbers(Imperfect.Inputs, name);
        double[] miss = Input("miss");
        double[] falseAlarm = Input("false_alarm");
        DiagnosticCheck[] checks = [.. Input("minutes").Select((minutes, i) => new DiagnosticCheck($"{i}", minutes, [i], miss[i], falseAlarm[i]))];
        return new OrderProblem(Input("p"), checks, Input("repair"), Imperfect.Inputs.GetProperty("second_visit").GetDouble());
    }

    internal static IEnumerable<int[]> AllOrders(int[] of) => of.Length == 0
        ? [[]]
        : of.SelectMany(first => AllOrders([.. of.Where(check => check != first)]).Select(rest => (int[])[first, .. rest]));

    private static OrderProblem PerfectProblem(JsonElement row, bool sparesTheLast) => new(
        PublishedOrders.Numbers(row, "p"),
        [.. PublishedOrders.Numbers(row, "minutes").Select((minutes, i) => new DiagnosticCheck($"{i}", minutes, [i]))],
        sparesTheLast: sparesTheLast);

    private static void AssertCost(JsonElement expected, string name, OrderProblem problem, IEnumerable<int> order) =>
        Perfect.AssertClose(expected.GetProperty(name), CheckOrder.CostOf(problem, [.. order]).ExpectedMinutes, name);
}
