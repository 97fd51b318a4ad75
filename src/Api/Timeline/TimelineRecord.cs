using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Units;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Timeline;

/// <summary>A record as a timeline tells it.</summary>
/// <param name="Row">The record.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="At">When what it tells happened: of a visit, the arrival.</param>
/// <param name="Until">When that ended.</param>
/// <param name="Wash">What a wash came to under the unit's leading rule; null for other records and for washes that no rule speaks of.</param>
internal sealed record TimelineRecord(RecordRow Row, UnitTerms Unit, DateTimeOffset At, DateTimeOffset Until, WashDayKind? Wash)
{
    private const string VoidType = "void";

    private static readonly Dictionary<string, TimelineKind> KindOfType = new(StringComparer.Ordinal)
    {
        ["wash"] = TimelineKind.Washes,
        ["fault"] = TimelineKind.Faults,
        ["fault_cleared"] = TimelineKind.Faults,
        ["visit"] = TimelineKind.Visits,
        ["part_change"] = TimelineKind.Parts,
        ["approval"] = TimelineKind.Approvals,
        ["condition"] = TimelineKind.Looks,
        ["meter"] = TimelineKind.Readings,
        ["heartbeat"] = TimelineKind.Readings,
    };

    /// <summary>Types of the records of some kinds.</summary>
    /// <param name="kinds">The kinds.</param>
    public static IReadOnlyList<string> TypesOf(IEnumerable<TimelineKind> kinds) =>
        [.. KindOfType.Where(pair => kinds.Contains(pair.Value)).Select(pair => pair.Key)];

    /// <summary>Of what it tells.</summary>
    public TimelineKind Kind => KindOfType.GetValueOrDefault(Row.Type, TimelineKind.Corrections);

    /// <summary>Whether a later record voids it or tells it otherwise; one that merely goes on, such as a decision after the asking, does not.</summary>
    public bool IsVoided => Row.Voided != 0 && !GoesOn;

    /// <summary>How a wash ended; null for other records.</summary>
    public WashOutcome? Outcome => Row.Type == "wash" ? EnumText<WashOutcome>.Parse(Row.Outcome!) : null;

    /// <summary>Whether it is a wash of which nothing is to be told but whether it counts.</summary>
    public bool IsOrdinary => Outcome == WashOutcome.Completed && Row.Voided == 0 && Row.Replaces is null && Row.AttestedBy is null && Row.DetergentLeft is null or 0
        && Wash is WashDayKind.Counted or WashDayKind.LowerGrade or null && Row.EndedMs is not null;

    // An approval that was decided, or a visit that was made, replaces the record that asked for it.
    private bool GoesOn => (Row.ByType == "approval" && Row.Type == "approval" && Row.Decision is null)
        || (Row.ByType == "visit" && Row.Type == "visit" && Row.ArrivedMs is null);

    /// <summary>A record with what it came to.</summary>
    /// <param name="row">The record.</param>
    /// <param name="unit">Its unit.</param>
    public static TimelineRecord Of(RecordRow row, UnitTerms unit)
    {
        long at = row.Type switch
        {
            "visit" => row.ArrivedMs ?? row.AskedMs ?? row.AtMs,
            "approval" => row.DecidedMs ?? row.AskedMs ?? row.AtMs,
            _ => row.AtMs,
        };
        long until = row.Type switch
        {
            "visit" => row.LeftMs ?? at,
            "wash" => row.EndedMs ?? at,
            _ => at,
        };
        return new TimelineRecord(row, unit, DateTimeOffset.FromUnixTimeMilliseconds(at), DateTimeOffset.FromUnixTimeMilliseconds(Math.Max(at, until)), WashOf(row, unit));
    }

    /// <summary>The record as a step of an entry.</summary>
    public TimelineStep ToStep() => new(
        Row.Seq,
        Kind,
        At,
        Unit.Unit.Resource.Unit,
        Row.Type,
        Row.Source,
        Row.Key,
        RecordTexts.Of(Row, Unit.Unit.Model) + (Wash == WashDayKind.LowerGrade ? " " + TimelineWords.TooLight : string.Empty),
        Correction(),
        IsVoided,
        Row.Type == "visit" && !IsVoided ? Urls.Visit(Row.Key) : Urls.Record(Unit.Unit.Resource.Unit, Paging.Cursor((Row.Seq - 1).ToString(System.Globalization.CultureInfo.InvariantCulture))));

    private string? Correction() => this switch
    {
        { IsVoided: true, Row.ByType: VoidType } => TimelineWords.Of(TimelineMark.Voided),
        { IsVoided: true } => TimelineWords.Of(TimelineMark.Replaced),
        { Row.Voided: not 0 } => TimelineWords.Of(Row.Type == "approval" ? TimelineMark.Decided : TimelineMark.Made),
        { Row.Replaces: not null } when Row.Type is not "approval" and not "visit" => TimelineWords.Of(TimelineMark.Corrects),
        _ => null,
    };

    private static WashDayKind? WashOf(RecordRow row, UnitTerms unit)
    {
        ProgrammeGrade? reported = row.Grade is null ? null : EnumText<ProgrammeGrade>.Parse(row.Grade);
        if (row.Type != "wash" || Spelling.Grade(unit.Unit.Model, reported, row.WashProgramme) is not { } grade)
        {
            return null;
        }

        var decided = Instant.FromUnixTimeMilliseconds(row.EndedMs ?? row.AtMs);
        ProgrammeGrade? asked = unit.RulesOn(unit.Calendar.DayOf(decided).Date).Select(rule => (ProgrammeGrade?)rule.Rule.Grade).FirstOrDefault();
        var wash = new Wash(
            Instant.FromUnixTimeMilliseconds(row.AtMs),
            row.EndedMs is { } ended ? Instant.FromUnixTimeMilliseconds(ended) : null,
            grade,
            EnumText<WashOutcome>.Parse(row.Outcome!),
            row.DetergentLeft is { } left ? left != 0 : null,
            row.AttestedBy);
        return asked is { } rule ? WashDays.KindOf(wash, rule) : null;
    }
}
