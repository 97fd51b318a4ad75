using System.Text.Json;
using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>A worked case of expected.json: the rule, the calendar, the records of its CSV file.</summary>
public sealed class ComplianceCase
{
    private static readonly string[] Weekdays = ["", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

    public ComplianceCase(string id)
    {
        Check = PublishedChecks.Get(id);
        JsonElement inputs = Check.Inputs;
        Rule = new CleaningRule(
            id,
            Grade(Text(inputs, "grade")),
            new EveryTradingDays(inputs.GetProperty("due_every_trading_days").GetInt32()),
            Duration.FromHours(inputs.GetProperty("grace_hours").GetDouble()));
        Calendar = new SiteCalendar(
            Zone(Text(inputs, "time_zone")),
            inputs.GetProperty("trading_weekdays").EnumerateArray().Select(d => (IsoDayOfWeek)Array.IndexOf(Weekdays, d.GetString())),
            Wall(Text(inputs, "trading_day_ends_at")),
            inputs.GetProperty("closures").EnumerateArray().Select(d => LocalDatePattern.Iso.Parse(d.GetString()!).Value));
        Window = new Interval(At(Text(inputs, "from")), At(Text(inputs, "to")));
        UnitService service = new(
            Duration.FromHours(inputs.GetProperty("reporting_hours").GetDouble()), null, null,
            [.. inputs.GetProperty("out_of_service").EnumerateArray().Select(p => new OutOfServicePeriod(At(p[0].GetString()!), At(p[1].GetString()!)))]);
        History = Read(service, Check.Rows);
    }

    public PublishedCheck Check { get; }

    public CleaningRule Rule { get; }

    public SiteCalendar Calendar { get; }

    public Interval Window { get; }

    public UnitHistory History { get; }

    public static DateTimeZone Zone(string id) => DateTimeZoneProviders.Tzdb[id];

    public static LocalTime Wall(string text) => LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(text).Value;

    /// <summary>RFC 3339 with seconds and offset, or to the minute in UTC, as the reference files write them.</summary>
    public static Instant At(string text) => text.EndsWith('Z')
        ? InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm'Z'").Parse(text).Value
        : OffsetDateTimePattern.Rfc3339.Parse(text).Value.ToInstant();

    /// <summary>The reference's name of a cause.</summary>
    public static string Name(Cause cause) => cause switch
    {
        Cause.InOrder => "in_order",
        Cause.NobodyStarted => "nobody_started",
        Cause.StoppedByPerson => "stopped_by_person",
        Cause.StoppedByFault => "stopped_by_fault",
        Cause.WashDidNotCount => "wash_did_not_count",
        Cause.LockoutNoVisitAsked => "locked_out_no_visit_asked",
        Cause.LockoutWaitingTechnician => "locked_out_waiting_for_technician",
        Cause.LockoutWaitingApproval => "locked_out_waiting_for_approval",
        Cause.LockoutWaitingPart => "locked_out_waiting_for_part",
        Cause.BeingWorkedOn => "being_worked_on",
        Cause.Silent => "silent",
        Cause.SiteClosed => "site_closed",
        Cause.OutOfService => "out_of_service",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "The reference has no such cause."),
    };

    public static string Name(ObligationResult result) => result switch
    {
        ObligationResult.OnTime => "on_time",
        ObligationResult.Late => "late",
        ObligationResult.Unknown => "unknown",
        ObligationResult.Excused => "excused",
        _ => throw new ArgumentOutOfRangeException(nameof(result), result, "The reference has no such result."),
    };

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;

    private static ProgrammeGrade Grade(string text) => Enum.Parse<ProgrammeGrade>(text, ignoreCase: true);

    private static UnitHistory Read(UnitService service, CsvRows rows)
    {
        string[] type = rows.Text("type");
        IEnumerable<int> Of(string name) => Enumerable.Range(0, rows.Count).Where(i => type[i] == name);
        string Cell(string column, int row) => rows.Text(column)[row];
        Instant? When(string column, int row) => Cell(column, row) is { Length: > 0 } text ? At(text) : null;
        TEnum Parsed<TEnum>(string column, int row)
            where TEnum : struct => Enum.Parse<TEnum>(Cell(column, row).Replace("_", "", StringComparison.Ordinal), ignoreCase: true);

        return new UnitHistory(
            service,
            [.. Of("wash").Select(i => new Wash(
                When("started_at", i)!.Value, When("ended_at", i), Grade(Cell("grade", i)), Parsed<WashOutcome>("outcome", i),
                Cell("detergent_left", i) switch { "yes" => true, "no" => false, _ => null }))],
            [.. Of("fault").Select(i => new WashFault(
                Cell("fault_code", i), When("raised_at", i)!.Value, When("cleared_at", i), Cell("locks_out_washing", i) == "yes"))],
            [.. Of("heartbeat").Select(i => When("at", i)!.Value)],
            [.. Of("visit").Select(i => new Visit(
                When("asked_at", i), When("arrived_at", i), When("left_at", i), Parsed<VisitOutcome>("outcome", i)))],
            [.. Of("approval").Select(i => new Approval(When("asked_at", i), When("decided_at", i), Cell("decision", i) == "granted"))]);
    }
}
