using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Demo;

/// <summary>The fleet as it stands at the end, by the rules of cleaning.</summary>
public class EndStateTests(ITestOutputHelper output)
{
    private static readonly CleaningRule EveryNight =
        new("every-night", ProgrammeGrade.Standard, new EveryTradingDays(1), Duration.FromHours(4));

    private static readonly Dictionary<VisitEnd, VisitOutcome> Outcomes = new()
    {
        [VisitEnd.Proven] = VisitOutcome.Proven,
        [VisitEnd.RepairedNotProven] = VisitOutcome.RepairedNotProven,
        [VisitEnd.WaitingApproval] = VisitOutcome.WaitingApproval,
        [VisitEnd.WaitingPart] = VisitOutcome.WaitingPart,
        [VisitEnd.NoFaultFound] = VisitOutcome.NoFaultFound,
    };

    [Theory]
    [InlineData(1, "2026-03-04T13:00:00Z")]
    [InlineData(1, "2026-03-02T06:30:00Z")]
    [InlineData(2, "2026-08-15T21:15:00Z")]
    [InlineData(3, "2026-01-11T10:00:00Z")]
    public void Every_state_and_cause_is_to_be_seen_and_most_units_are_clean(int seed, string asOf)
    {
        DateTimeOffset now = OffsetDateTimePattern.Rfc3339.Parse(asOf).Value.ToDateTimeOffset();
        SimulatedFleet fleet = FleetSimulator.Simulate(seed, now, new SimulationOptions());
        CleaningStatus[] states = [.. States(fleet)];
        Dictionary<CleaningState, int> byState = states.CountBy(status => status.State).ToDictionary();
        Dictionary<Cause, int> byCause = states.CountBy(status => status.Lockout ?? status.Cause).ToDictionary();
        output.WriteLine(string.Join(", ", byState.OrderBy(pair => pair.Key).Select(pair => $"{pair.Key} {pair.Value}")));
        output.WriteLine(string.Join(", ", byCause.OrderBy(pair => pair.Key).Select(pair => $"{pair.Key} {pair.Value}")));

        Assert.All(
            [CleaningState.Overdue, CleaningState.LockedOut, CleaningState.Silent, CleaningState.Closed, CleaningState.OutOfService],
            state => Assert.True(byState.GetValueOrDefault(state) >= 2, $"{state}"));
        // Which ovens are overdue hangs on the hour; one or two causes may be missing at any one of them.
        Cause[] causes =
        [
            Cause.NobodyStarted, Cause.StoppedByPerson, Cause.StoppedByFault, Cause.WashDidNotCount, Cause.LockoutNoVisitAsked,
            Cause.LockoutWaitingTechnician, Cause.LockoutWaitingApproval, Cause.LockoutWaitingPart,
        ];
        Assert.True(causes.Count(cause => byCause.GetValueOrDefault(cause) >= 1) >= 6, string.Join(", ", byCause.Keys));
        Assert.True(byState[CleaningState.Clean] + byState.GetValueOrDefault(CleaningState.Closed) > states.Length / 2);
    }

    private static IEnumerable<CleaningStatus> States(SimulatedFleet fleet)
    {
        ILookup<string, IncomingRecord> records = fleet.Records().DistinctBy(record => record.Key).ToLookup(record => record.Unit);
        var sites = fleet.Registry.Sites.ToDictionary(site => site.Site);
        var truths = fleet.Truth().ToDictionary(truth => truth.Unit);
        foreach (UnitResource unit in fleet.Registry.Units)
        {
            ModelResource model = fleet.Registry.Models.Single(model => model.Model == unit.Model);
            UnitHistory history = History(unit, model, [.. records[unit.Unit]], truths[unit.Unit], fleet.AsOf);
            yield return CauseTimeline.At(EveryNight, Calendar(sites[unit.Site]), history, Instant.FromDateTimeOffset(fleet.AsOf));
        }
    }

    private static SiteCalendar Calendar(SiteResource site) => new(
        DateTimeZoneProviders.Tzdb[site.TimeZone],
        site.TradingDays!.Weekdays.Select(Weekday),
        LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(site.TradingDays.EndsAt).Value,
        site.Closures!.SelectMany(closure => Enumerable.Range(0, closure.To!.Value.DayNumber - closure.From.DayNumber + 1)
            .Select(day => LocalDate.FromDateOnly(closure.From.AddDays(day)))));

    private static IsoDayOfWeek Weekday(string code) =>
        Enum.GetValues<IsoDayOfWeek>().Single(day => $"{day}".StartsWith(code, StringComparison.OrdinalIgnoreCase));

    private static UnitHistory History(
        UnitResource unit, ModelResource model, IReadOnlyList<IncomingRecord> records, UnitTruth truth, DateTimeOffset asOf) => new(
        new UnitService(
            Duration.FromHours(unit.ReportingHours), LocalDate.FromDateOnly(unit.CommissionedOn),
            unit.DecommissionedOn is { } left ? LocalDate.FromDateOnly(left) : null,
            [.. (unit.OutOfService ?? []).Select(period => new OutOfServicePeriod(At(period.From), Maybe(period.To)))]),
        [.. records.OfType<WashRecord>().Select(wash => Wash(wash, model))],
        [.. records.OfType<FaultRecord>().Select(fault => Fault(fault, model, records))],
        [.. records.Where(record => record is HeartbeatRecord or MeterRecord).Select(record => At(record.At))],
        [.. truth.Visits.Where(visit => visit.Fault is not null).Select(visit => Visit(visit, asOf))],
        [.. truth.Visits.Where(visit => visit.End == VisitEnd.WaitingApproval && visit.LeftAt <= asOf)
            .Select(visit => new Approval(Maybe(visit.LeftAt), Maybe(visit.DecidedAt), visit.DecidedAt is null ? null : true))]);

    private static Wash Wash(WashRecord wash, ModelResource model) => new(
        At(wash.At), Maybe(wash.EndedAt), wash.Grade ?? model.Programmes.Single(programme => programme.Programme == wash.Programme).Grade,
        wash.Outcome, wash.DetergentLeft, wash.AttestedBy);

    private static WashFault Fault(FaultRecord fault, ModelResource model, IReadOnlyList<IncomingRecord> records)
    {
        DateTimeOffset? cleared = fault.ClearedAt ?? records.OfType<FaultClearedRecord>()
            .Where(record => record.Code == fault.Code && record.At >= fault.At)
            .Min(record => (DateTimeOffset?)record.At);
        bool locksOut = model.Faults.Single(listed => listed.Code == fault.Code).LocksOutWashing;
        return new WashFault(fault.Code, At(fault.At), Maybe(cleared), locksOut);
    }

    private static Visit Visit(VisitTruth visit, DateTimeOffset asOf) => new(
        At(visit.AskedAt), Maybe(visit.ArrivedAt), visit.LeftAt <= asOf ? Maybe(visit.LeftAt) : null,
        visit.LeftAt <= asOf ? Outcomes[visit.End] : null);

    private static Instant At(DateTimeOffset at) => Instant.FromDateTimeOffset(at);

    private static Instant? Maybe(DateTimeOffset? at) => at is { } known ? Instant.FromDateTimeOffset(known) : null;
}
