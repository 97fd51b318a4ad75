using Washwear.Analytics.Cleaning;
using Washwear.Api.Projections;
using Washwear.Api.Registry;

namespace Washwear.Api.Ingest;

/// <summary>What the rules say about a record.</summary>
/// <param name="Unit">Its unit; null for a void, or if the unit is not known.</param>
/// <param name="Problem">Why it is refused; null: it is not.</param>
/// <param name="Doubts">What looks wrong but is taken in; null: nothing.</param>
internal readonly record struct Verdict(UnitEntry? Unit, RowProblem? Problem, IReadOnlyList<RowProblem>? Doubts);

/// <summary>Whether a record can be true, by itself and against the registry. Refuses what would make a result wrong or has no owner;
/// doubts what is unlikely but possible. What only the ledger knows (same key, void of a void) is not decided here.</summary>
/// <param name="registry">The registry.</param>
/// <param name="now">The instant at which the request is judged.</param>
/// <param name="nearest">Finds what a wrong code may have meant.</param>
internal sealed class RecordRules(RegistrySnapshot registry, DateTimeOffset now, NearestCode nearest)
{
    // A hundred years; a million washes are 27 a day, and a million hours 114 years.
    private const double MostDays = 36_525;
    private const double MostOfALife = 1_000_000;

    private static readonly DateTimeOffset Earliest = new(1990, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan ClockError = TimeSpan.FromHours(24);
    private static readonly TimeSpan LongestWash = TimeSpan.FromHours(24);

    private readonly Dictionary<UnitEntry, ServiceSpan> _spans = new(ReferenceEqualityComparer.Instance);
    private List<RowProblem>? _doubts;
    private VisitRules? _visits;

    /// <summary>The only source that records may name; null: any.</summary>
    public string? OnlySource { get; init; }

    /// <summary>Judges a record.</summary>
    /// <param name="record">The record.</param>
    public Verdict Check(IncomingRecord record)
    {
        _doubts = null;
        UnitEntry? unit = null;
        RowProblem? problem = record.Key.Length is 0 or > FieldReader.LongestKey ? RuleProblems.BadKey()
            : OnlySource is { } only && record.Source != only ? RuleProblems.SourceOfAnother(record.Source, only)
            : record.Replaces == record.Key ? RuleProblems.ReplacesItself()
            : record is not VoidRecord && !registry.Units.TryGetValue(record.Unit, out unit) ? UnknownUnit(record.Unit)
            : Instant("at", record.At) ?? Service(unit, record) ?? Payload(unit, record);
        return new Verdict(unit, problem, problem is null ? _doubts : null);
    }

    private VisitRules Visits => _visits ??= new VisitRules(Instant, Position, Code, Doubt);

    private RowProblem UnknownUnit(string code) =>
        RuleProblems.UnknownCode("unit", "unit", code, nearest.To(code, registry.UnitList.Select(unit => unit.Resource.Unit)));

    private RowProblem? Instant(string field, DateTimeOffset? at) =>
        at is null ? null
        : at < Earliest ? RuleProblems.TooOld(field, at.Value, Earliest)
        : at > now + ClockError ? RuleProblems.InTheFuture(field, at.Value, now)
        : null;

    private RowProblem? Service(UnitEntry? unit, IncomingRecord record)
    {
        if (unit is null)
        {
            return null;
        }

        if (!_spans.TryGetValue(unit, out ServiceSpan span))
        {
            _spans[unit] = span = ServiceSpan.Of(unit);
        }

        long at = record.At.ToUnixTimeMilliseconds();
        if (at >= span.ToMs)
        {
            return RuleProblems.AfterDecommissioning(unit.Resource.Unit, unit.Resource.DecommissionedOn!.Value);
        }

        // A visit may have been asked for while the unit was still there.
        if ((record as VisitRecord)?.ArrivedAt?.ToUnixTimeMilliseconds() >= span.ToMs)
        {
            return RuleProblems.AfterDecommissioning(unit.Resource.Unit, unit.Resource.DecommissionedOn!.Value, "arrived_at");
        }

        // A part may well have been fitted before the unit came to its site.
        if (at < span.FromMs && record is not PartChangeRecord)
        {
            Doubt(RuleProblems.BeforeCommissioning(unit.Resource.Unit, unit.Resource.CommissionedOn));
        }

        return null;
    }

    private RowProblem? Payload(UnitEntry? unit, IncomingRecord record) => record switch
    {
        WashRecord wash => Wash(unit!.Model, wash),
        FaultRecord fault => Fault(unit!.Model, fault),
        FaultClearedRecord cleared => Code(unit!.Model, "code", cleared.Code),
        PartChangeRecord change => PartChange(unit!.Model, change),
        MeterRecord meter => Meter(meter),
        HeartbeatRecord => null,
        VisitRecord visit => Visits.Visit(unit!.Model, visit),
        ApprovalRecord approval => Visits.Approval(unit!.Model, approval),
        ConditionRecord condition => Visits.Condition(unit!.Model, condition),
        VoidRecord gone => gone.Voids == gone.Key ? RuleProblems.VoidsItself() : null,
        _ => throw new ArgumentOutOfRangeException(nameof(record), record, "No such type of record."),
    };

    private RowProblem? Wash(ModelEntry model, WashRecord wash)
    {
        if (wash.Outcome == WashOutcome.Refused && wash.EndedAt is not null)
        {
            return RuleProblems.RefusedWithEnd();
        }

        RowProblem? problem = Instant("ended_at", wash.EndedAt)
            ?? (wash.EndedAt < wash.At ? RuleProblems.EndsBeforeStart("ended_at") : null)
            ?? Number("detergent_doses", wash.DetergentDoses)
            ?? Programme(model, wash);
        if (problem is not null)
        {
            return problem;
        }

        if (wash.EndedAt - wash.At > LongestWash)
        {
            Doubt(RuleProblems.LongWash(wash.EndedAt!.Value - wash.At));
        }

        if (wash.Outcome == WashOutcome.Completed && wash.EndedAt is null)
        {
            Doubt(RuleProblems.NoEnd());
        }

        return wash.FaultCode is null ? null : Code(model, "fault_code", wash.FaultCode);
    }

    private RowProblem? Programme(ModelEntry model, WashRecord wash)
    {
        if (wash.Programme is null)
        {
            if (wash.Grade is null && wash.Outcome != WashOutcome.Refused)
            {
                Doubt(RuleProblems.NoGrade());
            }

            return null;
        }

        if (model.Programmes.TryGetValue(wash.Programme, out ProgrammeResource? listed))
        {
            if (wash.Grade is { } reported && reported != listed.Grade)
            {
                Doubt(RuleProblems.GradeDiffers(reported, listed.Grade, listed.Programme));
            }

            return null;
        }

        if (wash.Grade is null)
        {
            return RuleProblems.UnknownCode("programme", "programme", wash.Programme, nearest.To(wash.Programme, model.Programmes.Keys));
        }

        Doubt(RuleProblems.ProgrammeNotListed(wash.Programme, model.Resource.Model));
        return null;
    }

    private RowProblem? Fault(ModelEntry model, FaultRecord fault) =>
        Instant("cleared_at", fault.ClearedAt)
        ?? (fault.ClearedAt < fault.At ? RuleProblems.EndsBeforeStart("cleared_at") : null)
        ?? Code(model, "code", fault.Code);

    // Units report codes that nobody catalogued; what they say is true all the same, so they are doubted and never refused.
    private RowProblem? Code(ModelEntry model, string field, string code)
    {
        if (!model.Faults.ContainsKey(code))
        {
            Doubt(RuleProblems.UncataloguedFault(field, code, model.Resource.Model));
        }

        return null;
    }

    private RowProblem? PartChange(ModelEntry model, PartChangeRecord change)
    {
        if (Position(model, "position", change.Position) is { } unknown)
        {
            return unknown;
        }

        PositionResource position = model.Positions[change.Position];
        return change.Removed is null && change.Fitted is null
            ? RuleProblems.EmptyPartChange()
            : Removed(position, change) ?? Fitted(position, change.Fitted);
    }

    private RowProblem? Position(ModelEntry model, string field, string code) =>
        model.Positions.ContainsKey(code) ? null : RuleProblems.UnknownCode(field, "position", code, nearest.To(code, model.Positions.Keys));

    private RowProblem? Removed(PositionResource position, PartChangeRecord change)
    {
        if (change.Removed is not { } part)
        {
            return null;
        }

        if (part.FittedAt > change.At)
        {
            return RuleProblems.RemovedBeforeFitted(change.At, part.FittedAt.Value);
        }

        if (part.LastSeenGoodAt > change.At)
        {
            return RuleProblems.SeenGoodAfterRemoval();
        }

        if (part.LastSeenGoodAt is not null && part.Reason != RemovalReason.FoundFailed)
        {
            Doubt(RuleProblems.SeenGoodNotUsed());
        }

        if (part.FailureMode is { } mode)
        {
            DoubtUnlessListed("removed.failure_mode", "failure_mode", mode, position.FailureModes, position.Position);
            if (part.Reason is RemovalReason.Precaution or RemovalReason.Upgrade)
            {
                Doubt(RuleProblems.ModeWithoutFailure());
            }
        }

        return Instant("removed.last_seen_good_at", part.LastSeenGoodAt) ?? Instant("removed.fitted_at", part.FittedAt);
    }

    private RowProblem? Fitted(PositionResource position, NewPart? part)
    {
        if (part?.PartNumber is { } number)
        {
            DoubtUnlessListed("fitted.part_number", "part_number", number, position.PartNumbers, position.Position);
        }

        return Number("fitted.age_days", part?.AgeDays, MostDays) ?? Number("fitted.age_washes", part?.AgeWashes);
    }

    private static RowProblem? Meter(MeterRecord meter) =>
        meter.WashesTotal is null && meter.OperatingHoursTotal is null
            ? RuleProblems.EmptyMeter()
            : Number("washes_total", meter.WashesTotal) ?? Number("operating_hours_total", meter.OperatingHoursTotal);

    /// <summary>Judges a number, which is finite, not negative and not beyond what can be.</summary>
    /// <param name="field">Name of its field.</param>
    /// <param name="number">The number.</param>
    /// <param name="most">The largest that can be true; a single absurd one would decide the curve of a whole fleet.</param>
    public static RowProblem? Number(string field, double? number, double most = MostOfALife) =>
        number is not { } value ? null
        : !double.IsFinite(value) ? RuleProblems.NotFinite(field)
        : value < 0 ? RuleProblems.Negative(field)
        : value > most ? RuleProblems.TooLarge(field, most)
        : null;

    // An empty list means that nobody wrote one.
    private void DoubtUnlessListed(string field, string what, string value, IReadOnlyList<string>? listed, string position)
    {
        if (listed is { Count: > 0 } && !listed.Contains(value, StringComparer.OrdinalIgnoreCase))
        {
            Doubt(RuleProblems.NotListed(field, what, value, position));
        }
    }

    private void Doubt(RowProblem doubt) => (_doubts ??= []).Add(doubt);
}
