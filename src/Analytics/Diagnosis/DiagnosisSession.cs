namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// Which check to do next, given the results so far. Probabilities follow Bayes' rule (<see cref="CauseBelief"/>); the next check is the
/// one with the least mean minutes until the fault is mended or left for a second visit, checks and repairs included, when the best ones
/// follow and checking ends at the chosen certainty. Up to <see cref="MostLookedAt"/> checks this is exact; of more, those that resolve
/// most probability per minute are looked at. After the last check causes are repaired by probability per minute, as long as that is
/// worth more than leaving. The certainty is that of causes which some check tells apart: where none does, they are named together.
/// Troubleshooting by decision theory: Heckerman, Breese and Rommelse (1995) Communications of the ACM 38(3), 49-57 (from memory).
/// </summary>
public static class DiagnosisSession
{
    /// <summary>Most checks that are looked at together.</summary>
    public const int MostLookedAt = SessionSearch.MostChecks;

    // Costs that differ by less are ties, which rounding must not decide.
    private const double Tie = 1e-9;

    /// <summary>The answer to the results so far.</summary>
    /// <param name="diagnosis">The case.</param>
    /// <param name="results">Results in the order in which they came; a check that was done twice counts as two independent looks.</param>
    public static DiagnosisState After(DiagnosisCase diagnosis, IReadOnlyList<EnteredResult> results)
    {
        ArgumentNullException.ThrowIfNull(diagnosis);
        ArgumentNullException.ThrowIfNull(results);
        Evidence seen = Evidence.Of(diagnosis, results);
        double[] now = [.. seen.Probabilities];
        RepairPlan repairs = RepairOrder.Of(now, diagnosis.RepairMinutes, diagnosis.Options.SecondVisitMinutes);
        CauseGroup[] groups = Groups(diagnosis, now);
        bool certain = SessionSearch.IsCertain(diagnosis, now, 1);
        ProposedCheck[] proposals = certain ? [] : Proposals(diagnosis, seen);
        ProposedCheck? next = proposals.Length > 0 ? proposals[0] : null;
        DiagnosisStage stage = certain ? DiagnosisStage.Certain : next is not null ? DiagnosisStage.CheckNext : DiagnosisStage.NotCertain;
        return new DiagnosisState(
            stage, now, groups, groups[0].Causes[0], next, proposals, next?.ExpectedMinutes ?? repairs.Minutes, repairs.Minutes,
            repairs.Causes, seen.MinutesSpent, seen.Contradicting, seen.Unknown);
    }

    private static CauseGroup[] Groups(DiagnosisCase diagnosis, double[] now) =>
    [
        .. diagnosis.Groups
            .Select(group => new CauseGroup([.. group.OrderByDescending(cause => now[cause])], Math.Min(1, group.Sum(cause => now[cause]))))
            .OrderByDescending(group => group.Probability),
    ];

    private static ProposedCheck[] Proposals(DiagnosisCase diagnosis, Evidence seen)
    {
        IReadOnlyList<double> now = seen.Probabilities;
        double[] repair = [.. diagnosis.RepairMinutes.Select(minutes => minutes ?? 0)];
        ProposedCheck[] byIndex =
        [
            .. diagnosis.Checks.Where(check => !seen.Done.Contains(check.Check) && SessionSearch.Tells(check, now))
                .Select(check => new ProposedCheck(
                    check, check.ProbabilityItSpeaksOf(now), CauseBelief.After(now, check, CheckOutcome.Fires),
                    CauseBelief.After(now, check, CheckOutcome.DoesNotFire), CheckOrder.ResolvedPerMinute(now, check, repair), null))
                .OrderByDescending(proposal => proposal.ResolvedPerMinute),
        ];
        ProposedCheck[] looked = [.. byIndex.Take(MostLookedAt)];
        double[] minutes = new SessionSearch(diagnosis, [.. looked.Select(proposal => proposal.Check)]).MinutesByFirst(now);
        double unit = Tie * Math.Max(1, minutes.DefaultIfEmpty(1).Min());
        return
        [
            .. looked.Select((proposal, i) => proposal with { ExpectedMinutes = minutes[i] })
                .OrderBy(proposal => Math.Round((proposal.ExpectedMinutes!.Value - minutes.Min()) / unit)),
            .. byIndex.Skip(MostLookedAt),
        ];
    }

    private sealed record Evidence(
        IReadOnlyList<double> Probabilities, IReadOnlySet<string> Done, double MinutesSpent, IReadOnlyList<string> Contradicting,
        IReadOnlyList<string> Unknown)
    {
        public static Evidence Of(DiagnosisCase diagnosis, IReadOnlyList<EnteredResult> results)
        {
            IReadOnlyList<double> belief = diagnosis.Probabilities;
            double minutes = 0;
            List<string> contradicting = [];
            List<string> unknown = [];
            foreach (EnteredResult result in results)
            {
                if (diagnosis.Checks.FirstOrDefault(check => check.Check == result.Check) is not { } check)
                {
                    unknown.Add(result.Check);
                    continue;
                }

                BeliefAfter after = CauseBelief.After(belief, check, result.Outcome);
                contradicting.AddRange(after.Contradicts ? [result.Check] : []);
                belief = after.Probabilities;
                minutes += result.Outcome == CheckOutcome.NotDone ? 0 : check.Minutes;
            }

            return new Evidence(belief, results.Select(result => result.Check).ToHashSet(), minutes, contradicting, unknown);
        }
    }
}
