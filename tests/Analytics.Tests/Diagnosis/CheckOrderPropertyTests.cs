using CsCheck;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class CheckOrderPropertyTests
{
    private const double SecondVisit = 240;

    /// <summary>Costs are computed by playing every cause and every result out, apart from the program.</summary>
    [Fact]
    public void The_cost_of_any_order_is_that_of_all_causes_and_results_played_out() => Drawn.Each(
        Gen.Select(RandomCases.Case(4, 4, 0.4), Gen.Bool, Gen.Bool, Gen.Double[0.3, 1]), 600, drawn =>
        {
            (RandomCase sample, bool sharp, bool complete, double share) = drawn;
            OrderProblem problem = Problem(sharp ? Sharp(sample) : sample, true, complete ? 1 : share);
            (double minutes, double second) = PlayedOut(problem, [2, 0, 3, 1]);
            OrderCost cost = CheckOrder.CostOf(problem, [2, 0, 3, 1]);
            Assert.Equal(minutes, cost.ExpectedMinutes, 1e-9);
            Assert.Equal(second, cost.ChanceOfSecondVisit, 1e-12);
        });

    [Fact]
    public void No_order_of_shared_and_imperfect_checks_costs_less() => Drawn.Each(
        RandomCases.Case(5, 5, 0.4), 100, sample => AssertBest(Problem(sample, false, 0.9)));

    [Fact]
    public void No_order_of_perfect_checks_costs_less_with_the_last_one_spared() => Drawn.Each(
        RandomCases.Case(4, 5, 1e-300), 100, sample => AssertBest(Problem(Sharp(sample), true, 1)));

    [Fact]
    public void With_one_check_a_cause_the_index_is_best() => Drawn.Each(RandomCases.OneCheckACause(5, 0.4), 100, sample =>
    {
        OrderProblem problem = Problem(sample, false, 0.9);
        OrderedChecks byIndex = CheckOrder.ByIndex(problem);
        Assert.True(byIndex.Exact);
        Assert.Equal(Least(problem), byIndex.Cost.ExpectedMinutes, 1e-9 * byIndex.Cost.ExpectedMinutes);
    });

    /// <summary>Too many checks to compare: the index order still is exact with one check a cause, against its neighbours exchanged.</summary>
    [Fact]
    public void Many_checks_are_ordered_by_index() => Drawn.Each(RandomCases.OneCheckACause(20, 0.3), 20, sample =>
    {
        OrderProblem problem = Problem(sample, false, 1);
        OrderedChecks best = CheckOrder.Best(problem);
        for (int i = 0; i + 1 < best.Order.Count; i++)
        {
            int[] exchanged = [.. best.Order];
            (exchanged[i], exchanged[i + 1]) = (exchanged[i + 1], exchanged[i]);
            Assert.True(CheckOrder.CostOf(problem, exchanged).ExpectedMinutes >= best.Cost.ExpectedMinutes - 1e-9);
        }
    });

    private static RandomCase Sharp(RandomCase sample) => sample with
    {
        Checks = [.. sample.Checks.Select(check => new DiagnosticCheck(check.Check, check.Minutes, check.SpeaksOf))],
    };

    private static OrderProblem Problem(RandomCase sample, bool spares, double share) =>
        new([.. sample.Probabilities.Select(p => p * share)], sample.Checks, sample.RepairMinutes, SecondVisit, spares);

    private static void AssertBest(OrderProblem problem)
    {
        OrderedChecks best = CheckOrder.Best(problem);
        Assert.True(best.Exact);
        double least = Least(problem);
        Assert.Equal(least, best.Cost.ExpectedMinutes, 1e-9 * least);
    }

    private static double Least(OrderProblem problem) =>
        CheckOrderTests.AllOrders([.. Enumerable.Range(0, problem.Checks.Count)]).Min(order => PlayedOut(problem, order).Minutes);

    /// <summary>Every cause with every combination of results, and what each check would show, weighed by its probability.</summary>
    private static (double Minutes, double Second) PlayedOut(OrderProblem problem, int[] order)
    {
        double minutes = 0;
        double second = 0;
        for (int cause = 0; cause < problem.Probabilities.Count; cause++)
        {
            for (int results = 0; results < 1 << order.Length; results++)
            {
                double probability = problem.Probabilities[cause];
                foreach (int check in order)
                {
                    DiagnosticCheck one = problem.Checks[check];
                    double fires = one.SpeaksOf.Contains(cause) ? 1 - one.Miss : one.FalseAlarm;
                    probability *= (results >> check & 1) == 1 ? fires : 1 - fires;
                }

                if (probability > 0)
                {
                    (double played, bool failed) = Play(problem, order, cause, results);
                    minutes += probability * played;
                    second += failed ? probability : 0;
                }
            }
        }

        return (minutes, second);
    }

    private static (double Minutes, bool Failed) Play(OrderProblem problem, int[] order, int cause, int results)
    {
        double minutes = 0;
        var ruledOut = new HashSet<int>();
        var repaired = new HashSet<int>();
        foreach (int check in order)
        {
            if (Alone(problem, ruledOut) == cause)
            {
                return (minutes + problem.RepairMinutes[cause], false);
            }

            DiagnosticCheck one = problem.Checks[check];
            minutes += one.Minutes;
            if ((results >> check & 1) == 1)
            {
                foreach (int tried in one.SpeaksOf.OrderByDescending(c => problem.Probabilities[c] / problem.RepairMinutes[c]))
                {
                    minutes += repaired.Add(tried) ? problem.RepairMinutes[tried] : 0;
                    if (tried == cause)
                    {
                        return (minutes, false);
                    }
                }
            }

            ruledOut.UnionWith(one.Miss == 0 ? one.SpeaksOf : []);
        }

        return Alone(problem, ruledOut) == cause ? (minutes + problem.RepairMinutes[cause], false) : (minutes + problem.SecondVisitMinutes, true);
    }

    private static int? Alone(OrderProblem problem, HashSet<int> ruledOut)
    {
        int[] left = [.. Enumerable.Range(0, problem.Probabilities.Count).Where(cause => !ruledOut.Contains(cause))];
        return problem.SparesTheLast && left.Length == 1 && left[0] != problem.SomethingElse ? left[0] : null;
    }
}
