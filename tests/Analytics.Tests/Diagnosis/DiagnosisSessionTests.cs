using System.Text.Json;
using CsCheck;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

public sealed class DiagnosisSessionTests
{
    private static readonly DiagnosticCheck[] Checks = [new("ear", 3, [0], 0.3, 0.15), new("current", 8, [0], 0.08, 0.04), new("hoses", 6, [1], 0.1, 0.03)];
    private static readonly DiagnosisCase Case = new([0.6, 0.3, 0.1], Checks, [45, 20, null]);

    /// <summary>
    /// Perfect checks, one a cause, and nothing else: checking ends when the cause is found or only one is left, so that the best mean is
    /// that of the published orders which spare the last check.
    /// </summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void With_perfect_checks_the_published_best_minutes_are_met(int row)
    {
        PublishedCheck published = PublishedChecks.Get("check_order.perfect_checks");
        JsonElement expected = published.Expected[row];
        double[] minutes = PublishedOrders.Numbers(expected, "minutes");
        DiagnosisCase diagnosis = new(
            PublishedOrders.Numbers(expected, "p"), [.. minutes.Select((m, i) => new DiagnosticCheck($"{i}", m, [i]))],
            [.. minutes.Select(_ => (double?)0)], new DiagnosisOptions(Certainty: 1));
        published.AssertClose(
            expected.GetProperty("last_check_spared").GetProperty("best_minutes"), DiagnosisSession.After(diagnosis, []).ExpectedMinutes, "minutes");
    }

    [Fact]
    public void The_next_check_comes_with_its_reasons()
    {
        DiagnosisState start = DiagnosisSession.After(Case, []);
        Assert.Equal(DiagnosisStage.CheckNext, start.Stage);
        Assert.Equal(3, start.Alternatives.Count);
        Assert.Equal(start.Next, start.Alternatives[0]);
        ProposedCheck current = start.Alternatives.Single(proposal => proposal.Check.Check == "current");
        Assert.Equal(0.6, current.SpeaksOf, 1e-12);
        Assert.Equal((0.6 * 0.92) + (0.4 * 0.04), current.IfItFires.ProbabilityOfResult, 1e-12);
        Assert.Equal(0.6 * 0.92 / ((0.6 * 0.92) + (0.4 * 0.04)), current.IfItFires.Probabilities[0], 1e-12);
        Assert.Equal(0.6 * 0.08 / ((0.6 * 0.08) + (0.4 * 0.96)), current.IfItDoesNotFire.Probabilities[0], 1e-12);
        Assert.Equal(0.6 * 0.92 / (8 + (0.04 * 45)), current.ResolvedPerMinute, 1e-12);
        Assert.All(start.Alternatives, proposal => Assert.True(proposal.ExpectedMinutes >= start.ExpectedMinutes - 1e-9));
    }

    [Fact]
    public void A_session_runs_until_it_is_certain()
    {
        DiagnosisState state = DiagnosisSession.After(Case, [new("current", CheckOutcome.Fires)]);
        Assert.Equal(DiagnosisStage.Certain, state.Stage);
        Assert.Equal((0, 8), (state.MostLikely, state.MinutesSpent));
        Assert.Null(state.Next);
        Assert.Equal(state.ExpectedMinutes, state.ExpectedMinutesWithoutChecks);
        Assert.Equal(0, state.Repairs[0]);
    }

    [Fact]
    public void Without_a_check_left_the_most_likely_cause_is_named_as_not_certain()
    {
        DiagnosisState state = DiagnosisSession.After(
            Case, [new("ear", CheckOutcome.DoesNotFire), new("hoses", CheckOutcome.NotDone), new("current", CheckOutcome.DoesNotFire)]);
        Assert.Equal(DiagnosisStage.NotCertain, state.Stage);
        Assert.Equal(1, state.MostLikely);
        Assert.Equal(11, state.MinutesSpent);
        Assert.InRange(state.Groups[0].Probability, 0.5, 0.9);
        DiagnosisState none = DiagnosisSession.After(new DiagnosisCase([0.5, 0.5], [], [10, 10]), []);
        Assert.Equal(DiagnosisStage.Certain, none.Stage);
        Assert.Equal([0, 1], Assert.Single(none.Groups).Causes);
        Assert.Equal(10 + (0.5 * 10), none.ExpectedMinutes, 1e-12);
    }

    [Fact]
    public void Causes_that_no_check_tells_apart_are_named_together()
    {
        DiagnosisState state = DiagnosisSession.After(
            new DiagnosisCase([0.5, 0.3, 0.2], [new("clock", 6, [0, 1], 0.1, 0.1), new("useless", 1, [0], 0.5, 0.5)], [40, 10, 20]),
            [new("clock", CheckOutcome.Fires)]);
        Assert.Equal(DiagnosisStage.Certain, state.Stage);
        Assert.Equal([0, 1], state.Groups[0].Causes);
        Assert.Equal([1, 0, 2], state.Repairs);
    }

    [Fact]
    public void One_cause_needs_no_check()
    {
        DiagnosisState state = DiagnosisSession.After(new DiagnosisCase([1], [new("a", 5, [0])], [30]), []);
        Assert.Equal((DiagnosisStage.Certain, 0, 30.0), (state.Stage, state.MostLikely, state.ExpectedMinutes));
        DiagnosisState other = DiagnosisSession.After(new DiagnosisCase([1], [], [null]), []);
        Assert.Equal(240, other.ExpectedMinutes);
        Assert.Empty(other.Repairs);
    }

    [Fact]
    public void Results_that_do_not_fit_are_told_and_left_aside()
    {
        DiagnosisCase sharp = new([0.5, 0.5], [new("a", 5, [0]), new("b", 5, [1])], [10, 10], new DiagnosisOptions(1));
        DiagnosisState state = DiagnosisSession.After(
            sharp, [new("a", CheckOutcome.DoesNotFire), new("b", CheckOutcome.DoesNotFire), new("c", CheckOutcome.Fires)]);
        Assert.Equal(["b"], state.Contradicting);
        Assert.Equal(["c"], state.Unknown);
        Assert.Equal([0, 1], state.Probabilities);
    }

    [Fact]
    public void A_second_look_counts_as_one_more()
    {
        EnteredResult look = new("ear", CheckOutcome.DoesNotFire);
        DiagnosisState twice = DiagnosisSession.After(Case, [look, look]);
        Assert.Equal(0.6 * 0.09 / ((0.6 * 0.09) + (0.4 * 0.85 * 0.85)), twice.Probabilities[0], 1e-12);
        Assert.Equal(6, twice.MinutesSpent);
    }

    [Fact]
    public void Impossible_cases_are_refused()
    {
        Assert.ThrowsAny<ArgumentException>(() => new DiagnosisCase([], [], []));
        Assert.ThrowsAny<ArgumentException>(() => new DiagnosisCase([0], [], [10]));
        Assert.ThrowsAny<ArgumentException>(() => new DiagnosisCase([1], [], []));
        Assert.ThrowsAny<ArgumentException>(() => new DiagnosisCase([1], [new("a", 1, [0]), new("a", 1, [0])], [10]));
        Assert.ThrowsAny<ArgumentException>(() => new DiagnosisCase([1], [], [10], new DiagnosisOptions(0)));
        Assert.ThrowsAny<ArgumentException>(() => new DiagnosisCase([1], [], [-1]));
    }

    /// <summary>
    /// Every policy of three checks, played out: the least mean of all is what the session states, and its own choices, followed through all
    /// results, cost that.
    /// </summary>
    [Fact]
    public void No_policy_costs_less_than_the_session_states() => Drawn.Each(RandomCases.Case(4, 4, 0.4), 100, sample =>
    {
        double?[] repair = [.. sample.RepairMinutes.Select(minutes => (double?)minutes)];
        repair[^1] = null;
        DiagnosisCase diagnosis = new(sample.Probabilities, [.. sample.Checks.Select((check, i) => new DiagnosticCheck($"{i}", check.Minutes, check.SpeaksOf, check.Miss, check.FalseAlarm))], repair);
        double stated = DiagnosisSession.After(diagnosis, []).ExpectedMinutes;
        Assert.Equal(LeastOfAll(diagnosis, []), stated, 1e-6);
        Assert.Equal(Followed(diagnosis, []), stated, 1e-6);
    });

    /// <summary>More checks than are looked at together: still an answer, with every check in it.</summary>
    [Fact]
    public void Many_checks_are_answered_too() => Drawn.Each(RandomCases.OneCheckACause(14, 0.2), 10, sample =>
    {
        DiagnosisState state = DiagnosisSession.After(
            new DiagnosisCase(sample.Probabilities, sample.Checks, [.. sample.RepairMinutes.Select(minutes => (double?)minutes)]), []);
        Assert.Equal(14, state.Alternatives.Count);
        Assert.Equal(DiagnosisSession.MostLookedAt, state.Alternatives.Count(proposal => proposal.ExpectedMinutes is not null));
        Assert.True(double.IsFinite(state.ExpectedMinutes));
    });

    private static double LeastOfAll(DiagnosisCase diagnosis, EnteredResult[] seen)
    {
        DiagnosisState state = DiagnosisSession.After(diagnosis, seen);
        return state.Stage != DiagnosisStage.CheckNext
            ? EndByHand(diagnosis, state.Probabilities)
            : state.Alternatives.Min(proposal => Both(diagnosis, seen, proposal, LeastOfAll));
    }

    private static double Followed(DiagnosisCase diagnosis, EnteredResult[] seen)
    {
        DiagnosisState state = DiagnosisSession.After(diagnosis, seen);
        return state.Next is null ? EndByHand(diagnosis, state.Probabilities) : Both(diagnosis, seen, state.Next, Followed);
    }

    private static double Both(
        DiagnosisCase diagnosis, EnteredResult[] seen, ProposedCheck proposal, Func<DiagnosisCase, EnteredResult[], double> after) =>
        proposal.Check.Minutes
        + Weighed(proposal.IfItFires, () => after(diagnosis, [.. seen, new(proposal.Check.Check, CheckOutcome.Fires)]))
        + Weighed(proposal.IfItDoesNotFire, () => after(diagnosis, [.. seen, new(proposal.Check.Check, CheckOutcome.DoesNotFire)]));

    private static double Weighed(BeliefAfter result, Func<double> then) =>
        result.ProbabilityOfResult > 0 ? result.ProbabilityOfResult * then() : 0;

    /// <summary>All orders of all sets of repairs: the least mean minutes.</summary>
    private static double EndByHand(DiagnosisCase diagnosis, IReadOnlyList<double> p)
    {
        int[] repairable = [.. Enumerable.Range(0, p.Count).Where(cause => diagnosis.RepairMinutes[cause] is not null)];
        return CheckOrderTests.AllOrders(repairable).SelectMany(order => Enumerable.Range(0, order.Length + 1).Select(length => order[..length])).Min(tried =>
        {
            double spent = 0;
            double mean = 0;
            foreach (int cause in tried)
            {
                spent += diagnosis.RepairMinutes[cause]!.Value;
                mean += p[cause] * spent;
            }

            return mean + (Math.Max(0, 1 - tried.Sum(cause => p[cause])) * (spent + diagnosis.Options.SecondVisitMinutes));
        });
    }
}
