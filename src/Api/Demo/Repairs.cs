using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>Lockouts, the visits that end them, and the planned visits.</summary>
internal static class Repairs
{
    private const double LooksAroundShare = 0.4;
    private const double MinutesOfProof = 88;
    private const double MinutesOfClosing = 12;
    private const double MinutesOfPlannedVisit = 90;

    // Precautions go by age alone, so that they say nothing of the life that is left.
    private const double OldPumpWashes = 750;
    private const double OldHoseDays = 560;
    private const double OldGasketDays = 600;
    private const double PrecautionShare = 0.4;

    internal static void Raise(UnitState state, FailureWay way, DateTimeOffset at)
    {
        state.Lockout = new Lockout(way, at, Diagnosing.Find(state, way, at));
        state.Reports.Fault(at, way.Fault!);
        JobPlan job = JobPlan.Draw(state, state.Lockout);
        if (job.OpenAt(state.EndsAt) is { } openSince)
        {
            Record(state, new VisitTruth(way.Fault, openSince, null, null, VisitEnd.WaitingPart, null, string.Empty, FaultCause.Of(way)), JobSheet.Empty);
        }

        foreach (PlannedVisit visit in job.Visits)
        {
            state.Schedule(visit.ArrivesAt, arrived => Visit(state, visit, arrived));
        }
    }

    /// <summary>A planned visit: every position is looked at, and old parts are swapped before they fail.</summary>
    internal static void PlannedVisit(UnitState state, DateTimeOffset at)
    {
        DateTimeOffset leaves = at.AddMinutes(MinutesOfPlannedVisit);
        if (!state.IsInUse(at) || state.Lockout is not null || state.BusyUntil > at || leaves > state.EndsAt)
        {
            if (leaves < state.EndsAt)
            {
                state.Schedule(at.AddDays(9), later => PlannedVisit(state, later));
            }

            return;
        }

        state.BusyUntil = leaves;
        Look(state, at.AddMinutes(30));
        SwapOldParts(state, at.AddMinutes(50));
        JobSheet sheet = new(Conditions: Conditions.OfPlannedVisit(state, at.AddMinutes(55)));
        state.Reports.ClockWasSet(at);
        Record(state, new VisitTruth(null, at.AddDays(-14), at, state.BusyUntil, VisitEnd.Planned, null, Technician(state)), sheet);
        ScheduleNext(state, at);
    }

    internal static void ScheduleNext(UnitState state, DateTimeOffset from) => state.Schedule(
        JobPlan.WorkingHours(state, from.AddDays(state.Random.Between(165, 205))), at => PlannedVisit(state, at));

    private static void Visit(UnitState state, PlannedVisit visit, DateTimeOffset arrived)
    {
        Lockout lockout = state.Lockout!;
        DateTimeOffset worked = arrived.AddMinutes(visit.MinutesToRepair);
        DateTimeOffset left = visit.End switch
        {
            VisitEnd.Proven => worked.AddMinutes(MinutesOfProof),
            VisitEnd.WaitingApproval or VisitEnd.WaitingPart => worked,
            _ => worked.AddMinutes(MinutesOfClosing),
        };
        state.BusyUntil = worked;
        DateTimeOffset? decided = visit.DecidedAt <= state.Window.AsOf ? visit.DecidedAt : null;
        VisitTruth truth = new(
            lockout.Fault, visit.AskedAt, arrived, left, visit.End, decided, Technician(state), FaultCause.Of(lockout.Way),
            FaultCause.Of(lockout.Found));
        bool isLast = visit.End is not (VisitEnd.WaitingApproval or VisitEnd.WaitingPart);
        if (isLast)
        {
            state.Schedule(worked, at => Repair(state, lockout, truth, at));
        }

        // What will be known only when the technician leaves is entered then; a visit that outlasts the unit's time is entered as it stands.
        if (!isLast || left >= state.EndsAt)
        {
            Record(state, truth, isLast ? JobSheet.Empty : Waiting(state, lockout, visit.End));
        }
    }

    private static JobSheet Waiting(UnitState state, Lockout lockout, VisitEnd end)
    {
        lockout.Diagnosed = true;
        string what = lockout.Found!.Position.Replace('-', ' ');
        string why = end == VisitEnd.WaitingApproval ? "waits for approval of a new " : "waits for a new ";
        return new JobSheet(SheetEntries.ChecksOf(state, lockout), SheetEntries.FindingsOf(lockout.Found), Note: why + what);
    }

    private static void Repair(UnitState state, Lockout lockout, VisitTruth visit, DateTimeOffset at)
    {
        if (lockout.Found is not null && state.Random.Happens(LooksAroundShare))
        {
            Look(state, at);
        }

        Replace(state, lockout, at);
        JobSheet sheet = new(
            lockout.Diagnosed ? null : SheetEntries.ChecksOf(state, lockout), SheetEntries.FindingsOf(lockout.Found),
            Conditions: lockout.Found is { } found ? Conditions.Neighbours(state, found.Position, at) : null,
            Note: lockout.Found is null ? "the fault did not show itself" : null);
        state.Missed = !lockout.IsCauseFound ? lockout.Way : state.Missed == lockout.Way ? null : state.Missed;
        state.Lockout = null;
        state.Lockouts.Add(new LockoutTruth(lockout.Fault, lockout.Way.Position, lockout.Way.Mode, lockout.RaisedAt, at));
        state.Reports.FaultCleared(at.AddMinutes(2), lockout.Fault);
        if (visit.LeftAt >= state.EndsAt)
        {
            return;
        }

        if (visit.End == VisitEnd.Proven)
        {
            state.Schedule(at.AddMinutes(5), proof => Prove(state, lockout, visit, sheet, proof));
        }
        else
        {
            Record(state, visit, lockout.Found is null ? sheet : sheet with { Proofs = SheetEntries.ProofsOf(null) });
        }
    }

    private static void Prove(UnitState state, Lockout lockout, VisitTruth visit, JobSheet sheet, DateTimeOffset at)
    {
        Washing.Try(state, at, ProgrammeGrade.Standard);
        WashRun? washed = state.LastRun?.StartedAt == at ? state.LastRun : null;
        bool proven = washed is { Outcome: WashOutcome.Completed, DetergentLeft: not true };
        Record(
            state, visit with { End = proven ? VisitEnd.Proven : VisitEnd.RepairedNotProven },
            sheet with { Proofs = SheetEntries.ProofsOf(washed) });
    }

    // What is taken for the cause is mended. When it is not the cause, the fault comes back with the next wash.
    private static void Replace(UnitState state, Lockout lockout, DateTimeOffset at)
    {
        bool staysBlocked = lockout.Way.Mode == FailureWays.Blocked && lockout.Found is not null && !lockout.IsCauseFound;
        state.StillBlocked = staysBlocked ? lockout.Way : null;
        if (lockout.Found is not { } found || found.Mode == FailureWays.Blocked)
        {
            return;
        }

        state.Parts.Swap(found.Position, at, RemovalReason.Failed, found);
        if (found.Position == Positions.WashPump)
        {
            SwapOldHoses(state, at);
        }
    }

    private static void Look(UnitState state, DateTimeOffset at)
    {
        foreach (FittedPart part in state.Parts.Fitted.ToList())
        {
            if (part.FailedBy(at) is null)
            {
                part.LastSeenGoodAt = at;
            }
            else if (state.Lockout?.Way.Position != part.Position && state.Lockout?.Found?.Position != part.Position)
            {
                state.Parts.Swap(part.Position, at, RemovalReason.FoundFailed);
            }
        }
    }

    private static void SwapOldParts(UnitState state, DateTimeOffset at)
    {
        if (state.Parts.At(Positions.WashPump).AgeWashes > OldPumpWashes && state.Random.Happens(PrecautionShare))
        {
            state.Parts.Swap(Positions.WashPump, at, RemovalReason.Precaution);
        }

        if (state.Parts.At(Positions.DoorGasket).AgeDays(at) > OldGasketDays && state.Random.Happens(PrecautionShare))
        {
            state.Parts.Swap(Positions.DoorGasket, at, RemovalReason.Precaution);
        }

        SwapOldHoses(state, at);
        FittedPart hose = state.Parts.At(Positions.DeliveryHose);
        if (state.Parts.UpgradesHoses(at) && hose.Wear.Kind != PartWear.Upgraded)
        {
            state.Parts.Swap(Positions.DeliveryHose, at, RemovalReason.Upgrade);
        }
    }

    private static void SwapOldHoses(UnitState state, DateTimeOffset at)
    {
        foreach (FittedPart hose in state.Parts.Fitted.ToList())
        {
            bool isHose = hose.Position is Positions.SuctionHose or Positions.DeliveryHose;
            if (isHose && hose.FailedBy(at) is null && hose.AgeDays(at) > OldHoseDays && state.Random.Happens(PrecautionShare))
            {
                state.Parts.Swap(hose.Position, at, RemovalReason.Precaution);
            }
        }
    }

    private static void Record(UnitState state, VisitTruth visit, JobSheet sheet)
    {
        if (visit.AskedAt >= state.Window.RecordsBegin)
        {
            state.Visits.Add(visit);
            state.Reports.Visit(visit, sheet);
        }
    }

    private static string Technician(UnitState state) => Names.Technician(Diagnosing.Team(state.Plan), state.Random.Next(3));
}
