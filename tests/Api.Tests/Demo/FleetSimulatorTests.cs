using System.Security.Cryptography;
using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Demo;

public class FleetSimulatorTests(ITestOutputHelper output)
{
    [Fact]
    public void The_same_seed_gives_the_same_records_and_another_seed_gives_others()
    {
        string first = Hash(Fleets.Of(7, 21).Records());
        string second = Hash(Fleets.Of(7, 21).Records());

        output.WriteLine($"seed 7, 21 units: {first}");
        Assert.Equal(first, second);
        Assert.NotEqual(first, Hash(Fleets.Of(8, 21).Records()));
    }

    [Fact]
    public void One_more_unit_changes_no_other()
    {
        SimulatedFleet small = Fleets.Of(3, 10, 1);
        HashSet<string> units = [.. small.Registry.Units.Select(unit => unit.Unit)];

        IEnumerable<IncomingRecord> same = Fleets.Of(3, 30, 1).Records().Where(record => units.Contains(record.Unit));

        Assert.Equal(Hash(small.Records()), Hash(same));
    }

    [Fact]
    public void The_fleet_has_the_size_that_the_demo_promises()
    {
        SimulatedFleet fleet = Fleets.Of(1);
        Dictionary<Type, int> counts = fleet.Records().CountBy(record => record.GetType()).ToDictionary();
        foreach ((Type type, int count) in counts)
        {
            output.WriteLine($"{type.Name}: {count}");
        }

        RegistryDocument registry = fleet.Registry;
        Assert.Equal((3, 60, 3, 140), (registry.Operators.Count, registry.Sites.Count, registry.Models.Count, registry.Units.Count));
        Assert.InRange(counts.Values.Sum(), 200_000, 280_000);
        Assert.InRange(counts[typeof(PartChangeRecord)], 1_200, 2_500);
        Assert.InRange(counts[typeof(FaultRecord)], 1_000, 4_000);
        Assert.All(
            [typeof(WashRecord), typeof(FaultClearedRecord), typeof(HeartbeatRecord), typeof(MeterRecord)],
            type => Assert.True(counts[type] > 300, $"too few of {type.Name}"));
    }

    [Fact]
    public void Records_name_units_positions_programmes_and_faults_of_the_registry_and_lie_in_the_window()
    {
        SimulatedFleet fleet = Fleets.Of(2);
        var models = fleet.Registry.Models.ToDictionary(model => model.Model);
        var modelOf = fleet.Registry.Units.ToDictionary(unit => unit.Unit, unit => models[unit.Model]);

        foreach (IncomingRecord record in fleet.Records())
        {
            var model = modelOf[record.Unit];
            bool known = record switch
            {
                WashRecord wash => (wash.AttestedBy is not null || model.Programmes.Any(programme => programme.Programme == wash.Programme))
                    && (wash.FaultCode is null || model.Faults.Any(fault => fault.Code == wash.FaultCode))
                    && (wash.EndedAt is null || wash.EndedAt >= wash.At),
                FaultRecord fault => model.Faults.Any(listed => listed.Code == fault.Code)
                    && (fault.ClearedAt is null || fault.ClearedAt >= fault.At),
                PartChangeRecord change => model.Positions.Any(position =>
                    position.Position == change.Position && position.PartNumbers!.Contains(change.Fitted!.PartNumber!)
                    && (change.Removed?.FailureMode is null || position.FailureModes!.Contains(change.Removed.FailureMode))),
                _ => true,
            };
            Assert.True(known, record.ToString());
            Assert.InRange(record.At, fleet.RecordsBegin.AddHours(-1), fleet.AsOf.AddHours(1));
        }
    }

    [Fact]
    public void A_visit_that_is_over_says_what_was_found_for_its_fault_as_the_catalogue_lists_it_unless_the_fault_did_not_show()
    {
        SimulatedFleet fleet = Fleets.Of(5, 40);
        Dictionary<string, ModelResource> models = fleet.Registry.Models.ToDictionary(model => model.Model);
        Dictionary<string, string> modelOf = fleet.Registry.Units.ToDictionary(unit => unit.Unit, unit => unit.Model);
        VisitRecord[] over = [.. fleet.Records().OfType<VisitRecord>().Where(visit =>
            visit is { LeftAt: not null, Faults.Count: 1, Outcome: not VisitOutcome.NoFaultFound })];
        Assert.True(over.Length > 100, $"only {over.Length} visits");
        Assert.All(over, visit =>
        {
            VisitFinding found = Assert.Single(visit.Findings!);
            FaultResource fault = models[modelOf[visit.Unit]].Faults.Single(one => one.Code == visit.Faults![0]);
            Assert.Contains(fault.Causes!, cause => cause.Position == found.Position && cause.FailureMode == found.FailureMode);
        });
        Assert.Contains(fleet.Records().OfType<VisitRecord>(), visit => visit.Conditions is { Count: > 0 });
    }

    [Fact]
    public void Deliveries_repeat_some_records_bring_some_late_and_never_give_a_key_twice_for_different_content()
    {
        Dictionary<(string, string), IncomingRecord> byKey = [];
        Dictionary<string, DateTimeOffset> latest = [];
        int repeated = 0;
        int late = 0;
        foreach (IncomingRecord record in Fleets.Of(4).Records())
        {
            if (!byKey.TryAdd((record.Source, record.Key), record))
            {
                Assert.Equal(byKey[(record.Source, record.Key)], record);
                repeated++;
            }

            late += latest.TryGetValue(record.Unit, out DateTimeOffset seen) && record.At < seen.AddHours(-6) ? 1 : 0;
            latest[record.Unit] = record.At > seen ? record.At : seen;
        }

        output.WriteLine($"{byKey.Count} records, {repeated} repeated, {late} late by more than six hours");
        Assert.InRange(repeated, byKey.Count / 500, byKey.Count / 50);
        Assert.InRange(late, byKey.Count / 500, byKey.Count / 20);
    }

    [Fact]
    public void A_unit_that_is_locked_out_refuses_and_completes_no_wash()
    {
        SimulatedFleet fleet = Fleets.Of(5, 70);
        ILookup<string, WashRecord> washes = fleet.Records().OfType<WashRecord>()
            .Where(wash => wash.AttestedBy is null)
            .ToLookup(wash => wash.Unit);
        TimeSpan clockError = TimeSpan.FromHours(1);

        int refused = 0;
        foreach (UnitTruth unit in fleet.Truth())
        {
            foreach (LockoutTruth lockout in unit.Lockouts)
            {
                WashRecord[] during = [.. washes[unit.Unit].Where(wash =>
                    wash.At > lockout.RaisedAt + clockError && wash.At < (lockout.ClearedAt ?? fleet.AsOf) - clockError)];
                Assert.All(during, wash => Assert.Equal(WashOutcome.Refused, wash.Outcome));
                refused += during.Length;
            }
        }

        output.WriteLine($"{refused} refusals");
        Assert.True(refused > 300);
    }

    [Fact]
    public void A_weak_pump_shows_in_its_washes_before_it_fails()
    {
        SimulatedFleet fleet = Fleets.Of(6);
        ILookup<string, WashRecord> washes = fleet.Records().OfType<WashRecord>().ToLookup(wash => wash.Unit);
        (int Bad, int All) before = (0, 0);
        (int Bad, int All) usual = (0, 0);
        foreach (PartLifeTruth pump in fleet.Truth().SelectMany(unit => unit.Lives).Where(life => life.Position == "wash-pump"))
        {
            if (pump.FailedAt is { } failedAt)
            {
                before = Add(before, Share(washes[pump.Unit], failedAt.AddDays(-14), failedAt.AddHours(-3)));
                usual = Add(usual, Share(washes[pump.Unit], failedAt.AddDays(-90), failedAt.AddDays(-45)));
            }
        }

        double shareBefore = (double)before.Bad / before.All;
        double shareUsual = (double)usual.Bad / usual.All;
        output.WriteLine($"bad washes: {shareUsual:P1} usually, {shareBefore:P1} in the last fortnight of a pump");
        Assert.InRange(shareUsual, 0.005, 0.10);
        Assert.InRange(shareBefore, 4 * shareUsual, 1);
    }

    [Fact]
    public void Every_chosen_end_is_reached()
    {
        SimulatedFleet fleet = Fleets.Of(1);
        Dictionary<string, IncomingRecord> last = [];
        foreach (IncomingRecord record in fleet.Records().Where(record => record is not PartChangeRecord))
        {
            last[record.Unit] = last.TryGetValue(record.Unit, out IncomingRecord? seen) && seen.At > record.At ? seen : record;
        }

        UnitTruth[] units = [.. fleet.Truth()];
        DateOnly today = DateOnly.FromDateTime(fleet.AsOf.Date);

        StagedEnd[] lockouts = [StagedEnd.NoVisitAsked, StagedEnd.WaitingTechnician, StagedEnd.WaitingApproval, StagedEnd.WaitingPart];
        Assert.All(lockouts, end => Assert.Contains(units, unit => unit.Staged == end));
        Assert.All(units.Where(unit => lockouts.Contains(unit.Staged)), unit => Assert.Null(unit.Lockouts[^1].ClearedAt));

        IEnumerable<string> silent = fleet.Registry.Units
            .Where(unit => unit.DecommissionedOn is null && last[unit.Unit].At < fleet.AsOf.AddHours(-72))
            .Select(unit => unit.Site);
        Assert.InRange(silent.Distinct().Count(), 2, 6);
        Assert.InRange(fleet.Registry.Sites.Count(site => site.Closures!.Any(off => today >= off.From && today <= off.To)), 2, 4);
        Assert.Equal(2, fleet.Registry.Units.Count(unit => unit.OutOfService?.Any(period => period.To is null) == true));
        Assert.InRange(units.Count(unit => unit.Lockouts.Any(lockout => lockout.ClearedAt is null)), 7, 20);
    }

    [Theory]
    [InlineData(0, 3)]
    [InlineData(10_001, 3)]
    [InlineData(10, 0)]
    [InlineData(10, 11)]
    public void Sizes_out_of_range_are_refused(int units, int years) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Fleets.Of(1, units, years));

    private static (int Bad, int All) Add((int Bad, int All) sum, (int Bad, int All) more) => (sum.Bad + more.Bad, sum.All + more.All);

    private static (int Bad, int All) Share(IEnumerable<WashRecord> washes, DateTimeOffset from, DateTimeOffset to)
    {
        bool IsOfTheUnit(WashOutcome outcome) => outcome is not (WashOutcome.Refused or WashOutcome.StoppedByPerson);
        WashRecord[] during = [.. washes.Where(wash => wash.At >= from && wash.At < to && IsOfTheUnit(wash.Outcome))];
        return (during.Count(wash => wash.Outcome == WashOutcome.StoppedByFault || wash.DetergentLeft == true), during.Length);
    }

    private static string Hash(IEnumerable<IncomingRecord> records)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (IncomingRecord record in records)
        {
            hash.AppendData(JsonSerializer.SerializeToUtf8Bytes(record, record.GetType()));
        }

        return Convert.ToHexString(hash.GetHashAndReset());
    }
}
