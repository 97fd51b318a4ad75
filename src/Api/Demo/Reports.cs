using System.Globalization;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>Turns what happens to a unit into records, with the error of the unit's clock, and hands them to the gateway.</summary>
internal sealed class Reports(UnitPlan plan, Gateway gateway, SimulationWindow window)
{
    private const double CorrectedEvery = 60;

    private static readonly Dictionary<VisitEnd, VisitOutcome> Outcomes = new()
    {
        [VisitEnd.Proven] = VisitOutcome.Proven,
        [VisitEnd.RepairedNotProven] = VisitOutcome.RepairedNotProven,
        [VisitEnd.WaitingApproval] = VisitOutcome.WaitingApproval,
        [VisitEnd.WaitingPart] = VisitOutcome.WaitingPart,
        [VisitEnd.Planned] = VisitOutcome.NoFaultFound,
        [VisitEnd.NoFaultFound] = VisitOutcome.NoFaultFound,
    };

    private readonly string _gatewaySource = Names.Gateway(Names.Operators[plan.Site.Operator].Code);
    private DateTimeOffset _clockSetAt = window.RecordsBegin;
    private int _number;
    private int _jobs;

    /// <summary>Washes that no record of ever arrives, those still waiting at the end included.</summary>
    internal int WashesLost { get; private set; }

    internal void ClockWasSet(DateTimeOffset at) => _clockSetAt = at;

    internal void Wash(WashRun run)
    {
        if (run.StartedAt < window.RecordsBegin)
        {
            return;
        }

        WashRecord record = new(
            _gatewaySource, NextKey("wash"), plan.Code, UnitTime(run.StartedAt), null,
            run.Outcome is WashOutcome.Refused or WashOutcome.Unknown ? null : UnitTime(run.EndedAt), plan.Model.Programme(run.Grade), null,
            run.Outcome, run.Fault, run.Doses, run.DetergentLeft, null);
        bool arrives = gateway.FromUnit(record, run.EndedAt);
        WashesLost += arrives || run.Outcome == WashOutcome.Refused || run.StartedAt > window.AsOf ? 0 : 1;
    }

    internal void ManualClean(DateTimeOffset at)
    {
        if (at >= window.RecordsBegin)
        {
            gateway.FromPeople(
                new WashRecord(
                    Names.Jobs, NextKey("clean"), plan.Code, Second(at), null, Second(at.AddMinutes(50)), null, ProgrammeGrade.Standard,
                    WashOutcome.Completed, null, null, false, "shift lead"),
                at.AddMinutes(50));
        }
    }

    internal void Fault(DateTimeOffset at, string code, DateTimeOffset? clearedAt = null)
    {
        if (at >= window.RecordsBegin)
        {
            DateTimeOffset? cleared = clearedAt is null ? null : UnitTime(clearedAt.Value);
            FaultRecord record = new(_gatewaySource, NextKey("fault"), plan.Code, UnitTime(at), null, code, cleared);
            gateway.FromUnit(record, clearedAt ?? at);
        }
    }

    internal void FaultCleared(DateTimeOffset at, string code)
    {
        if (at >= window.RecordsBegin)
        {
            gateway.FromUnit(new FaultClearedRecord(_gatewaySource, NextKey("cleared"), plan.Code, UnitTime(at), null, code), at);
        }
    }

    internal void Heartbeat(DateTimeOffset at)
    {
        if (at >= window.RecordsBegin)
        {
            gateway.FromUnit(new HeartbeatRecord(_gatewaySource, NextKey("beat"), plan.Code, UnitTime(at), null), at);
        }
    }

    internal void Meter(DateTimeOffset at, double washes, double hours)
    {
        if (at >= window.RecordsBegin)
        {
            gateway.FromUnit(new MeterRecord(_gatewaySource, NextKey("meter"), plan.Code, UnitTime(at), null, washes, hours), at);
        }
    }

    /// <summary>A part change, written by a person; every so often with a slip of the pen that a later record replaces.</summary>
    internal bool PartChange(DateTimeOffset at, string position, RemovedPart? removed, NewPart? fitted)
    {
        if (at < window.RecordsBegin)
        {
            return false;
        }

        PartChangeRecord record = new(Names.Jobs, NextKey("part"), plan.Code, Second(at), null, position, removed, fitted);
        if (fitted?.Batch is null || _number % CorrectedEvery != 0)
        {
            return gateway.FromPeople(record, at.AddMinutes(20));
        }

        bool arrives = gateway.FromPeople(record with { Fitted = fitted with { Batch = fitted.Batch + "?" } }, at.AddMinutes(20));
        gateway.FromPeople(record with { Key = NextKey("part"), Replaces = record.Key }, at.AddDays(7));
        return arrives;
    }

    /// <summary>A visit, entered when it is over or as far as it has come by the end, and the approval that it had to wait for.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="sheet">What the technician wrote down when it was over.</param>
    internal void Visit(VisitTruth visit, JobSheet sheet)
    {
        DateTimeOffset? asked = visit.End == VisitEnd.Planned ? null : Second(visit.AskedAt);
        DateTimeOffset? arrived = visit.ArrivedAt is { } came ? Second(came) : null;
        DateTimeOffset? left = visit.LeftAt <= window.AsOf ? Second(visit.LeftAt.Value) : null;
        VisitRecord record = new(
            Names.Jobs, NextJob("visit"), plan.Code, (asked ?? arrived)!.Value, null, asked, arrived, left,
            left is null ? null : Outcomes[visit.End], arrived is null ? null : visit.Technician, left is null ? null : sheet.Note,
            visit.Fault is null ? null : [visit.Fault], left is null ? null : sheet.Checks, left is null ? null : sheet.Findings,
            left is null ? null : sheet.Proofs, left is null ? null : sheet.Conditions);
        gateway.AtOnce(record, (left ?? arrived ?? asked)!.Value);
        if (left is { } waiting && visit.End == VisitEnd.WaitingApproval)
        {
            DateTimeOffset? decided = visit.DecidedAt is { } granted ? Second(granted) : null;
            ApprovalRecord approval = new(
                Names.Jobs, NextJob("approval"), plan.Code, waiting, null, "Replace " + visit.Found!.Position.Replace('-', ' '),
                Positions.PartCost(visit.Found.Position),
                visit.Fault, waiting, decided is null ? null : ApprovalDecision.Granted, decided, decided is null ? null : "area manager", null);
            gateway.AtOnce(approval, decided ?? waiting);
        }
    }

    private string NextJob(string what) => string.Create(CultureInfo.InvariantCulture, $"{plan.Code}-{what}-{++_jobs}");

    private string NextKey(string what) => string.Create(CultureInfo.InvariantCulture, $"{plan.Code}-{what}-{++_number}");

    // A clock that runs off is put right at each planned visit.
    private DateTimeOffset UnitTime(DateTimeOffset at) =>
        Second(at.AddMinutes(plan.ClockMinutesPerDay * Math.Max(0, (at - _clockSetAt).TotalDays)));

    private static DateTimeOffset Second(DateTimeOffset at) => at.AddTicks(-(at.Ticks % TimeSpan.TicksPerSecond));
}

/// <summary>One try to wash, as it truly went.</summary>
internal sealed record WashRun(
    DateTimeOffset StartedAt, DateTimeOffset EndedAt, ProgrammeGrade Grade, WashOutcome Outcome, string? Fault, double? Doses,
    bool? DetergentLeft);
