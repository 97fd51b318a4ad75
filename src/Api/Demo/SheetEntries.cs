using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Demo;

/// <summary>What a technician enters about checks, findings and proofs.</summary>
internal static class SheetEntries
{
    private const double ReadingShare = 0.6;
    private const int ChecksOfTheHasty = 2;

    internal static IReadOnlyList<VisitFinding>? FindingsOf(FailureWay? found) =>
        found is null ? null : [new VisitFinding(found.Position, found.Mode, found.Cause)];

    /// <summary>The checks of the fault in the catalogue's order until one speaks for what is found, with the catalogue's errors.</summary>
    /// <remarks>
    /// Whoever takes something else for the cause has done no more than two checks, none of which speaks of the true one. A fault that does
    /// not show itself leaves nothing for a check to find.
    /// </remarks>
    internal static IReadOnlyList<VisitCheck>? ChecksOf(UnitState state, Lockout lockout)
    {
        string? faulty = lockout.Found is null ? null : lockout.Way.Position;
        List<VisitCheck> done = [];
        foreach (FaultCheckResource check in Planned(state.Plan.Model, lockout))
        {
            bool speaksOfTruth = faulty is not null && check.Positions.Contains(faulty);
            bool fails = state.Looking.Happens(speaksOfTruth ? 1 - check.ChanceOfMissing : check.ChanceOfFalseAlarm);
            done.Add(Done(state.Looking, check.Check, fails));
            if (fails && lockout.Found is { } found && check.Positions.Contains(found.Position))
            {
                break;
            }
        }

        return done.Count == 0 ? null : done;
    }

    /// <summary>The proofs that a repair asks for.</summary>
    /// <param name="washed">The wash that was to prove it; null: none was run.</param>
    internal static IReadOnlyList<VisitProof> ProofsOf(WashRun? washed) =>
    [
        .. Proof.Asked(ProgrammeGrade.Standard).Select(proof => new VisitProof(proof.Code, proof.Code switch
        {
            Proof.FullWash => washed is null ? CheckResult.NotDone : Result(washed.Outcome == WashOutcome.Completed),
            Proof.DetergentDissolved => washed?.Outcome != WashOutcome.Completed ? CheckResult.NotDone : Result(washed.DetergentLeft != true),
            _ => CheckResult.Pass,
        })),
    ];

    private static IEnumerable<FaultCheckResource> Planned(ModelPlan model, Lockout lockout)
    {
        IReadOnlyList<FaultCheckResource> all = Catalogue.ChecksOf(model, lockout.Fault);
        return lockout.IsCauseFound ? all
            : lockout.Found is not { } found ? all.Take(ChecksOfTheHasty)
            : all.Where(check => check.Positions.Contains(found.Position))
                .Where(check => found.Position == lockout.Way.Position || !check.Positions.Contains(lockout.Way.Position))
                .Take(ChecksOfTheHasty);
    }

    private static VisitCheck Done(Random random, string check, bool fails)
    {
        VisitCheck done = new(check, Result(!fails));
        if (!Checks.Readings.TryGetValue(check, out Checks.Reading? reading) || !random.Happens(ReadingShare))
        {
            return done;
        }

        (double low, double high) = fails ? reading.Failed : reading.Sound;
        return done with { Reading = Math.Round(random.Between(low, high), high < 10 ? 1 : 0), UnitOfMeasure = reading.UnitOfMeasure };
    }

    private static CheckResult Result(bool passed) => passed ? CheckResult.Pass : CheckResult.Fail;
}
