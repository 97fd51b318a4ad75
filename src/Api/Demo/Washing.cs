using MathNet.Numerics.Distributions;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Demo;

/// <summary>What becomes of one try to wash.</summary>
internal static class Washing
{
    private const double BlockagesPerWash = 0.0006;
    private const double MinutesSpread = 0.03;

    // What a weak pump adds at its weakest: longer washes, detergent left, washes cut short by the unit or by impatient people.
    private const double WeakMinutes = 0.25;
    private const double WeakDetergentLeft = 0.4;
    private const double WeakCutShort = 0.3;
    private const double WeakStopped = 0.08;
    private const double StillArmDetergentLeft = 0.3;

    private const double DetergentLeft = 0.006;
    private const double DetergentOut = 0.003;
    private const double DoorOpened = 0.003;
    private const double OutcomeUnknown = 0.001;

    internal static void Try(UnitState state, DateTimeOffset at, ProgrammeGrade grade)
    {
        if (!state.IsInUse(at) || at < state.BusyUntil || state.IsStaged(StagedEnd.NobodyStarted, at))
        {
            return;
        }

        if (state.Lockout is null)
        {
            Run(state, at, state.IsStaged(StagedEnd.DidNotCount, at) ? ProgrammeGrade.Light : grade);
        }
        else
        {
            Refuse(state, at, grade);
        }
    }

    /// <summary>A wash that a blockage stops, for units that are led into a lockout; one that is locked out as it is comes first.</summary>
    internal static void Block(UnitState state, DateTimeOffset at)
    {
        if (state.Lockout is not null)
        {
            state.Schedule(at.AddHours(12), later => Block(state, later));
        }
        else if (state.IsInUse(at))
        {
            WashRun run = new(at, at.AddMinutes(12), ProgrammeGrade.Standard, WashOutcome.StoppedByFault, null, 1, null);
            Stop(state, run, FailureWays.Blockages[0]);
        }
    }

    private static void Refuse(UnitState state, DateTimeOffset at, ProgrammeGrade grade)
    {
        if (state.Random.Happens(state.Plan.Site.Habits.TriesWhileLockedOut))
        {
            state.LastTryAt = at;
            state.Reports.Wash(new WashRun(at, at, grade, WashOutcome.Refused, state.Lockout!.Fault, null, null));
        }

        if (state.Random.Happens(state.Plan.Site.Habits.CleansByHand))
        {
            state.Reports.ManualClean(at.AddMinutes(20));
        }
    }

    private static void Run(UnitState state, DateTimeOffset at, ProgrammeGrade grade)
    {
        double weakness = state.Parts.PumpWeakness;
        Catalogue.WashKind kind = Catalogue.Wash(grade);
        double minutes = kind.Minutes * (1 + Normal.Sample(state.Random, 0, MinutesSpread)) * (1 + (WeakMinutes * weakness));
        WashRun whole = new(at, at.AddMinutes(minutes), grade, WashOutcome.Completed, null, kind.Doses, null);
        FailureWay? trouble = state.StillBlocked ?? state.Parts.AlarmedFailure(at);
        state.Parts.RunOneWash(at);
        trouble ??= state.Parts.AlarmedFailure(at);
        if (trouble is null && state.Random.Happens(BlockagesPerWash))
        {
            trouble = state.Random.OneOf(BlockagesOf(state.Plan.Model), way => way.Share);
        }

        if (trouble is not null)
        {
            Stop(state, CutShort(state, whole, WashOutcome.StoppedByFault), trouble);
            return;
        }

        Finish(state, End(state, whole, weakness));
    }

    private static WashRun End(UnitState state, WashRun whole, double weakness)
    {
        bool staged = state.IsStaged(StagedEnd.StoppedByFault, whole.StartedAt);
        string? fault = staged ? FaultCodes.DetergentOut : DrawFault(state.Random, weakness);
        if (fault is not null)
        {
            WashRun cut = CutShort(state, whole, WashOutcome.StoppedByFault) with { Fault = fault };
            state.Reports.Fault(cut.EndedAt, fault, cut.EndedAt.AddMinutes(state.Random.Between(1, 45)));
            return cut;
        }

        double stopped = state.Plan.Site.Habits.StopsWash + (WeakStopped * weakness);
        if (state.IsStaged(StagedEnd.StoppedByPerson, whole.StartedAt) || state.Random.Happens(stopped))
        {
            return CutShort(state, whole, WashOutcome.StoppedByPerson);
        }

        return state.Random.Happens(OutcomeUnknown)
            ? whole with { Outcome = WashOutcome.Unknown }
            : LookForDetergent(state, whole, weakness);
    }

    private static string? DrawFault(Random random, double weakness)
    {
        double draw = random.NextDouble();
        double cutShort = WeakCutShort * weakness * weakness;
        return draw < cutShort ? FaultCodes.FlowFalling
            : draw < cutShort + DetergentOut ? FaultCodes.DetergentOut
            : draw < cutShort + DetergentOut + DoorOpened ? FaultCodes.DoorOpened : null;
    }

    private static WashRun LookForDetergent(UnitState state, WashRun wash, double weakness)
    {
        if (wash.Doses is null or 0)
        {
            return wash;
        }

        double stillArm = state.Parts.SprayArmFailed(wash.StartedAt) ? StillArmDetergentLeft : 0;
        double chance = DetergentLeft + (WeakDetergentLeft * weakness) + stillArm;
        bool left = state.Random.Happens(chance);
        bool seen = left ? state.Random.Happens(0.8) : state.Random.Happens(state.Plan.Site.Habits.LooksForDetergent);
        return seen ? wash with { DetergentLeft = left } : wash;
    }

    private static WashRun CutShort(UnitState state, WashRun whole, WashOutcome outcome)
    {
        DateTimeOffset end = whole.StartedAt + ((whole.EndedAt - whole.StartedAt) * state.Random.Between(0.1, 0.75));
        return whole with { EndedAt = end, Outcome = outcome };
    }

    private static void Stop(UnitState state, WashRun cut, FailureWay trouble)
    {
        Finish(state, cut with { Fault = trouble.Fault });
        Repairs.Raise(state, trouble, cut.EndedAt);
    }

    private static void Finish(UnitState state, WashRun run)
    {
        state.BusyUntil = run.EndedAt;
        state.LastRun = run;
        state.LastTryAt = run.StartedAt;
        state.WashesTotal++;
        state.WashesRunInRecords += run.StartedAt >= state.Window.RecordsBegin ? 1 : 0;
        if (run.Outcome == WashOutcome.Completed)
        {
            state.LastDeepWashAt = run.Grade == ProgrammeGrade.Intensive ? run.StartedAt : state.LastDeepWashAt;
            state.LastDescaleAt = run.Grade == ProgrammeGrade.Descale ? run.StartedAt : state.LastDescaleAt;
        }

        state.Reports.Wash(run);
    }

    private static IReadOnlyList<FailureWay> BlockagesOf(ModelPlan model) =>
        [.. FailureWays.Blockages.Where(way => model.Positions.Contains(way.Position))];
}
