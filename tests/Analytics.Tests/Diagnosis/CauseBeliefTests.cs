using System.Text.Json;
using CsCheck;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class CauseBeliefTests
{
    [Fact]
    public void The_published_updates_are_met_result_by_result()
    {
        PublishedCheck published = PublishedChecks.Get("check_order.bayes_updates");
        DiagnosticCheck[] checks = [.. published.Inputs.GetProperty("checks").EnumerateArray().Select(PublishedOrders.Check)];
        IReadOnlyList<double> belief = PublishedOrders.Numbers(published.Inputs, "prior");
        JsonElement[] results = [.. published.Inputs.GetProperty("results").EnumerateArray()];
        for (int step = 0; step < results.Length; step++)
        {
            BeliefAfter after = CauseBelief.After(belief, checks[results[step].GetProperty("check").GetInt32() - 1], Outcome(results[step]));
            JsonElement expected = published.Expected[step];
            published.AssertClose(expected.GetProperty("probability_of_result"), after.ProbabilityOfResult, $"result {step}");
            PublishedOrders.AssertAllClose(published, expected.GetProperty("posterior"), after.Probabilities);
            Assert.False(after.Contradicts);
            belief = after.Probabilities;
        }
    }

    /// <summary>By hand: 0.4 x 0.1, 0.25, 0.15, 0.12 and 0.08 x 0.95, times 1000: 40, 237.5, 142.5, 114, 76 of 610.</summary>
    [Fact]
    public void The_first_update_is_that_by_hand()
    {
        BeliefAfter after = CauseBelief.After([0.4, 0.25, 0.15, 0.12, 0.08], new("1", 1, [0], 0.1, 0.05), CheckOutcome.DoesNotFire);
        double[] byHand = [40 / 610.0, 237.5 / 610, 142.5 / 610, 114 / 610.0, 76 / 610.0];
        Assert.All(byHand.Zip(after.Probabilities), pair => Assert.Equal(pair.First, pair.Second, 1e-15));
    }

    [Fact]
    public void A_check_that_was_not_done_changes_nothing()
    {
        BeliefAfter after = CauseBelief.After([0.5, 0.5], new("a", 1, [0]), CheckOutcome.NotDone);
        Assert.Equal([0.5, 0.5], after.Probabilities);
        Assert.Equal(1, after.ProbabilityOfResult);
    }

    [Fact]
    public void A_result_that_cannot_be_says_so_and_changes_nothing()
    {
        BeliefAfter after = CauseBelief.After([0, 1], new("a", 1, [0]), CheckOutcome.Fires);
        Assert.True(after.Contradicts);
        Assert.Equal([0, 1], after.Probabilities);
        Assert.Equal(0, after.ProbabilityOfResult);
    }

    [Fact]
    public void Belief_stays_a_belief_and_does_not_hang_on_the_order_of_results() => Drawn.Each(
        Gen.Select(RandomCases.Case(6, 5, 0.4), Gen.Bool.Array[5]), 2000, drawn =>
        {
            (RandomCase sample, bool[] fires) = drawn;
            var results = sample.Checks.Zip(fires, (check, fired) => (check, fired ? CheckOutcome.Fires : CheckOutcome.DoesNotFire)).ToList();
            IReadOnlyList<double> forward = Belief(sample.Probabilities, results);
            results.Reverse();
            if (results.Any(result => result.Item1.Miss < 1e-3 || result.Item1.FalseAlarm < 1e-3))
            {
                return; // With checks that are all but perfect, results may contradict each other; the first then stands.
            }

            IReadOnlyList<double> backward = Belief(sample.Probabilities, results);
            Assert.Equal(1, forward.Sum(), 1e-12);
            Assert.All(forward, probability => Assert.InRange(probability, 0, 1));
            Assert.All(forward.Zip(backward), pair => Assert.Equal(pair.First, pair.Second, 1e-12));
        });

    /// <summary>What is expected after a check is what was believed before it.</summary>
    [Fact]
    public void The_mean_of_both_results_is_the_belief_before() => Drawn.Each(RandomCases.Case(6, 1, 0.4), 500, sample =>
    {
        BeliefAfter fires = CauseBelief.After(sample.Probabilities, sample.Checks[0], CheckOutcome.Fires);
        BeliefAfter not = CauseBelief.After(sample.Probabilities, sample.Checks[0], CheckOutcome.DoesNotFire);
        Assert.Equal(1, fires.ProbabilityOfResult + not.ProbabilityOfResult, 1e-12);
        for (int i = 0; i < sample.Probabilities.Length; i++)
        {
            double mean = (fires.ProbabilityOfResult * fires.Probabilities[i]) + (not.ProbabilityOfResult * not.Probabilities[i]);
            Assert.Equal(sample.Probabilities[i], mean, 1e-12);
        }
    });

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-0.1)]
    [InlineData(double.PositiveInfinity)]
    public void Impossible_probabilities_are_refused(double bad) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => CauseBelief.After([0.5, bad], new("a", 1, [0]), CheckOutcome.Fires));

    [Fact]
    public void Impossible_checks_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new DiagnosticCheck("a", 0, [0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DiagnosticCheck("a", double.NaN, [0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DiagnosticCheck("a", 1, [-1]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DiagnosticCheck("a", 1, [0], 1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DiagnosticCheck("a", 1, [0], 0, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => CauseBelief.After([1], new("a", 1, [1]), CheckOutcome.Fires));
    }

    private static IReadOnlyList<double> Belief(IReadOnlyList<double> start, IEnumerable<(DiagnosticCheck, CheckOutcome)> results) =>
        results.Aggregate(start, (belief, result) => CauseBelief.After(belief, result.Item1, result.Item2).Probabilities);

    private static CheckOutcome Outcome(JsonElement result) =>
        result.GetProperty("fires").GetBoolean() ? CheckOutcome.Fires : CheckOutcome.DoesNotFire;
}
