using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>Lockouts, the visits that end them, and the planned visits.</summary>
internal static class Repairs
{
    private const double WrongPartShare = 0.07;
    private const double LooksAroundShare = 0.4;
    private const double MinutesOfProof = 88;
    private const double MinutesOfClosing = 12;
    private const double MinutesOfPlannedVisit = 90;

    // Precautions go by age alone, so that they say nothing of the life that is left.
    private const double OldPumpWashes = 750;
    private const double OldHoseDays = 560;
    private const double OldGasketDays = 600;
    private const double PrecautionShare = 0.4;
    private const double GradedDays = 200;

    internal static void Raise(UnitState state, FailureWay way, DateTimeOffset at)
    {
        state.Lockout = new Lockout(way, at);
        state.Reports.Fault(at, way.Fault!);
        JobPlan job = JobPlan.Draw(state, state.Lockout);
        if (job.OpenAt(state.EndsAt) is { } openSince)
        {
            Record(state, new VisitTruth(way.Fault, openSince, null, null, VisitEnd.WaitingPart, null, string.Empty), way, null);
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
        state.Reports.ClockWasSet(at);
        Record(
            state, new VisitTruth(null, at.AddDays(-14), at, state.BusyUntil, VisitEnd.Planned, null, Technician(state)), null, null, [.. WornHoses(state, at)]);
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
            VisitEnd.RepairedNotProven => worked.AddMinutes(MinutesOfClosing),
            _ => worked,
        };
        state.BusyUntil = worked;
        DateTimeOffset? decided = visit.DecidedAt <= state.Window.AsOf ? visit.DecidedAt : null;
        var truth = new VisitTruth(lockout.Fault, visit.AskedAt, arrived, left, visit.End, decided, Technician(state));
        if (visit.End is VisitEnd.Proven or VisitEnd.RepairedNotProven && worked < state.EndsAt)
        {
            state.Schedule(worked, at => Record(state, truth, lockout.Way, Repair(state, lockout, visit.End, at)));
        }
        else
        {
            Record(state, truth, lockout.Way, lockout.Way);
        }
    }

    /// <returns>What the technician takes for the cause.</returns>
    private static FailureWay Repair(UnitState state, Lockout lockout, VisitEnd end, DateTimeOffset at)
    {
        FailureWay found = lockout.Way;
        if (state.Random.Happens(LooksAroundShare))
        {
            Look(state, at);
        }

        if (lockout.Way.Mode != FailureWays.Blocked)
        {
            found = Replace(state, lockout.Way, at);
        }

        state.Lockout = null;
        state.Lockouts.Add(new LockoutTruth(lockout.Fault, lockout.Way.Position, lockout.Way.Mode, lockout.RaisedAt, at));
        state.Reports.FaultCleared(at.AddMinutes(2), lockout.Fault);
        if (end == VisitEnd.Proven)
        {
            state.Schedule(at.AddMinutes(5), proof => Washing.Try(state, proof, ProgrammeGrade.Standard));
        }

        return found;
    }

    // Sometimes a sound part is swapped on suspicion; the fault then comes back with the next wash.
    private static FailureWay Replace(UnitState state, FailureWay way, DateTimeOffset at)
    {
        List<FailureWay> suspects = [.. FailureWays.OfParts
            .Where(other => other.Fault == way.Fault && other.Position != way.Position && state.Plan.Model.Positions.Contains(other.Position))];
        if (suspects.Count > 0 && state.Random.Happens(WrongPartShare) && state.Parts.At(suspects[0].Position).FailedBy(at) is null)
        {
            state.Parts.Swap(suspects[0].Position, at, RemovalReason.Precaution);
            return suspects[0];
        }

        state.Parts.Swap(way.Position, at, RemovalReason.Failed);
        if (way.Position == Positions.WashPump)
        {
            SwapOldHoses(state, at);
        }

        return way;
    }

    private static void Look(UnitState state, DateTimeOffset at)
    {
        foreach (FittedPart part in state.Parts.Fitted.ToList())
        {
            if (part.FailedBy(at) is null)
            {
                part.LastSeenGoodAt = at;
            }
            else if (state.Lockout?.Way.Position != part.Position)
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

    // Only at the last visits: whoever swaps such a hose later goes by its age all the same.
    private static IEnumerable<PartCondition> WornHoses(UnitState state, DateTimeOffset at) => at < state.Window.AsOf.AddDays(-GradedDays) ? [] :
        state.Parts.Fitted.Where(part => part.Position is Positions.SuctionHose or Positions.DeliveryHose && part.AgeDays(at) > OldHoseDays)
            .Select(hose => new PartCondition(hose.Position, ConditionGrade.Worn, "hardened"));

    private static void Record(
        UnitState state, VisitTruth visit, FailureWay? way, FailureWay? found, IReadOnlyList<PartCondition>? conditions = null)
    {
        if (visit.AskedAt >= state.Window.RecordsBegin)
        {
            state.Visits.Add(visit);
            state.Reports.Visit(visit, way?.Position, found, conditions);
        }
    }

    private static string Technician(UnitState state) => Names.Technician((state.Plan.Site.Index % 3 * 3) + state.Random.Next(3));
}
