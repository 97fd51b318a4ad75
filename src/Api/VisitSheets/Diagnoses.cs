using Washwear.Analytics.Diagnosis;
using Washwear.Api.Registry;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>A diagnosis as far as it has come.</summary>
/// <param name="Case">The fault at the unit.</param>
/// <param name="State">What follows from the results so far.</param>
/// <param name="Figures">The same as a sheet tells it.</param>
/// <param name="Checks">The checks, those that are done first, then in the order in which they are to be done.</param>
internal sealed record Diagnosed(FaultCase Case, DiagnosisState State, SheetDiagnosis Figures, IReadOnlyList<SheetCheck> Checks);

/// <summary>Tells what a fault is likely to come from and what to check next.</summary>
internal static class Diagnoses
{
    /// <summary>The diagnosis after the results so far.</summary>
    /// <param name="fault">The fault at the unit.</param>
    /// <param name="question">What is asked.</param>
    /// <param name="earlier">What earlier visits for the same trouble told.</param>
    /// <param name="fitted">What is fitted.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    public static Diagnosed Of(
        FaultCase fault, SheetQuestion question, ToldEarlier earlier, IReadOnlyList<SheetPart> fitted, string timeZone)
    {
        DiagnosisCase diagnosis = fault.For(question.Certainty, earlier.Findings);
        EnteredResult[] results =
            [.. earlier.Results, .. question.Results.Select(result => new EnteredResult(result.Check, Outcome(result.Result)))];
        DiagnosisState state = DiagnosisSession.After(diagnosis, results);
        SheetCause[] causes = [.. Enumerable.Range(0, state.Probabilities.Count).Select(i => Cause(fault, state, i, fitted))];
        var figures = new SheetDiagnosis(
            state.Stage,
            DiagnosisSentences.Finding(
                state, causes, state.Next is null ? null : Text(fault, state.Next.Check.Check), question.Certainty,
                    question.Results.Count > 0 || earlier.Visits.Count > 0),
            question.Certainty,
            state.Groups[0].Probability,
            state.Next?.Check.Check,
            state.ExpectedMinutes,
            question.Results.Where(result => result.Result != SheetResult.NotDone)
                .Sum(result => fault.Checks.First(check => check.Check == result.Check).Minutes),
            fault.Weighing.Visits,
            fault.Weighing.VisitsWithoutFinding,
            [.. causes.OrderBy(cause => cause.Position is null).ThenByDescending(cause => cause.Probability)],
            [.. earlier.Visits.Select(visit => Sentence(fault, visit, timeZone))],
            state.Contradicting);
        return new Diagnosed(fault, state, figures, Checks(fault, diagnosis, state, results, question, earlier, causes));
    }

    private static string Sentence(FaultCase fault, EarlierVisit visit, string timeZone) => DiagnosisSentences.Earlier(
        visit.At,
        [
            .. visit.Findings.Select(found => DiagnosisSentences.CauseName(
                fault.Model.Positions.GetValueOrDefault(found.Position)?.Name ?? found.Position, found.FailureMode)),
        ],
        [.. visit.Checks.Select(told => (Text(fault, told.Check), told.Result))],
        timeZone);

    private static SheetCause Cause(FaultCase fault, DiagnosisState state, int index, IReadOnlyList<SheetPart> fitted)
    {
        WeighedCause weighed = fault.Weighing.Causes[index];
        if (weighed.Catalogued is not { } told)
        {
            return new SheetCause(
                null, DiagnosisSentences.SomethingElse, null, null, state.Probabilities[index], weighed.Probability, weighed.CatalogueShare,
                fault.Weighing.OutsideCatalogue, weighed.ShareBeforeAge, 1,
                DiagnosisSentences.OfSomethingElse(fault.Weighing.OutsideCatalogue, fault.Weighing.Visits));
        }

        PositionResource? position = fault.Model.Positions.GetValueOrDefault(told.Position);
        var cause = new SheetCause(
            position?.Position ?? told.Position, DiagnosisSentences.CauseName(position?.Name ?? told.Position, told.FailureMode),
                told.FailureMode, told.Cause,
            state.Probabilities[index], weighed.Probability, weighed.CatalogueShare, fault.VisitsThatFound(index), weighed.ShareBeforeAge,
            weighed.HazardFactor, string.Empty);
        SheetPart? part = fault.NeedsPart[index] ? fitted.FirstOrDefault(one => one.Position == cause.Position) : null;
        return cause with { Sentence = DiagnosisSentences.Why(cause, fault.Weighing.Visits, part) };
    }

    private static SheetCheck[] Checks(
        FaultCase fault, DiagnosisCase diagnosis, DiagnosisState state, EnteredResult[] results, SheetQuestion question,
        ToldEarlier earlier, SheetCause[] causes)
    {
        string[] done = [.. earlier.Checks.Select(one => one.Told.Check), .. question.Results.Select(result => result.Check)];
        string[] needed = [.. IfAllPass(diagnosis, state, results)];
        double[] repair = [.. diagnosis.RepairMinutes.Select(minutes => minutes ?? 0)];
        IEnumerable<string> others = fault.Checks.Where(check => !done.Contains(check.Check) && !needed.Contains(check.Check))
            .OrderByDescending(check => CheckOrder.ResolvedPerMinute(state.Probabilities, check, repair)).Select(check => check.Check);
        return
        [
            .. earlier.Checks.Select(one => Check(fault, one.Told.Check, state, causes, one.Told.Result, true) with { DoneAt = one.Visit.At }),
            .. question.Results.Select(told => Check(fault, told.Check, state, causes, told.Result, true)),
            .. needed.Select(check => Check(fault, check, state, causes, null, true)),
            .. others.Select(check => Check(fault, check, state, causes, null, false)),
        ];
    }

    /// <summary>The checks to do one after the other as long as each one passes: what paper can tell in advance.</summary>
    private static IEnumerable<string> IfAllPass(DiagnosisCase diagnosis, DiagnosisState state, IReadOnlyList<EnteredResult> results)
    {
        List<EnteredResult> told = [.. results];
        for (ProposedCheck? next = state.Next; next is not null; next = DiagnosisSession.After(diagnosis, told).Next)
        {
            yield return next.Check.Check;
            told.Add(new EnteredResult(next.Check.Check, CheckOutcome.DoesNotFire));
        }
    }

    private static SheetCheck Check(
        FaultCase fault, string code, DiagnosisState state, SheetCause[] causes, SheetResult? result, bool needed)
    {
        FaultCheckResource known = fault.Fault.Checks!.First(check => check.Check == code);
        DiagnosticCheck check = fault.Checks.First(one => one.Check == code);
        BeliefAfter fails = CauseBelief.After(state.Probabilities, check, CheckOutcome.Fires);
        BeliefAfter passes = CauseBelief.After(state.Probabilities, check, CheckOutcome.DoesNotFire);
        Dictionary<string, string> names = fault.Model.Resource.Positions.ToDictionary(one => one.Position, one => one.Name);
        bool open = result is null;
        return new SheetCheck(
            known.Check,
            known.Text,
            known.Minutes,
            [.. known.Positions.Select(position => Name(fault.Model, position))],
            known.Hazards ?? [],
            result,
            needed,
            open ? fails.ProbabilityOfResult : null,
            open ? DiagnosisSentences.After(fails, causes, names) : null,
            open ? DiagnosisSentences.After(passes, causes, names) : null);
    }

    private static string Text(FaultCase fault, string check) => fault.Fault.Checks!.First(one => one.Check == check).Text;

    private static string Name(ModelEntry model, string position) => model.Positions.GetValueOrDefault(position)?.Name ?? position;

    private static CheckOutcome Outcome(SheetResult result) => result switch
    {
        SheetResult.Fail => CheckOutcome.Fires,
        SheetResult.Pass => CheckOutcome.DoesNotFire,
        SheetResult.NotDone => CheckOutcome.NotDone,
        _ => throw new ArgumentOutOfRangeException(nameof(result), result, "A result without an outcome."),
    };
}
