using System.Diagnostics;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Demo;

/// <summary>The invented fleet through the database: nothing refused, and every life that could be seen is there.</summary>
public sealed class DemoLoadTests(ITestOutputHelper output) : IAsyncLifetime
{
    private readonly SimulatedFleet _fleet = Fleets.Of(1);
    private ApiHost? _host;
    private IngestAnswer? _answer;
    private TimeSpan _loadTime;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(Fleets.AsOf);
        var watch = Stopwatch.StartNew();
        (RegistryOutcome? outcome, IReadOnlyList<Api.Http.FieldProblem> problems) =
            await _host.Services.GetRequiredService<RegistryWriter>().PutAsync(_fleet.Registry, CancellationToken.None);
        Assert.Empty(problems);
        Assert.NotNull(outcome);
        _answer = await _host.Services.GetRequiredService<IngestService>().TakeInAsync(_fleet.Records(), CancellationToken.None);
        _loadTime = watch.Elapsed;
    }

    public async Task DisposeAsync() => await _host!.DisposeAsync();

    [Fact]
    public async Task Everything_is_taken_in_and_the_database_knows_the_lives_that_were_reported()
    {
        output.WriteLine($"{_answer!.Accepted} records in {_loadTime.TotalSeconds:F1} s, {_answer.Duplicate} duplicates");
        Assert.Equal((0, 0), (_answer.Refused, _answer.Doubted));
        Assert.True(_answer.Duplicate > 500);

        IReadOnlyList<FleetLife> lives = await LivesAsync(null);
        PartLifeTruth[] truths = [.. _fleet.Truth().SelectMany(unit => unit.Lives)];
        foreach (IGrouping<string, PartLifeTruth> truth in truths.GroupBy(life => life.Position))
        {
            (int All, int Failed, int Unknown) expected = (
                truth.Count(life => life.StartReported || life.RemovalReported),
                truth.Count(life => life.RemovalReported && life.Reason is RemovalReason.Failed or RemovalReason.FoundFailed),
                truth.Count(life => !life.StartReported && life.RemovalReported));
            FleetLife[] found = [.. lives.Where(life => life.Position == truth.Key)];
            output.WriteLine($"{truth.Key}: {expected.All} lives, {expected.Failed} failed, {expected.Unknown} of unknown start");
            Assert.Equal(expected, (found.Length, found.Count(life => life.Failed), found.Count(life => life.Doubt is not null)));
        }
    }

    [Fact]
    public async Task Lockouts_tell_what_they_wait_for_as_the_fleet_was_led_there()
    {
        Dictionary<StagedEnd, string> waits = new()
        {
            [StagedEnd.NoVisitAsked] = "lockout_no_visit_asked",
            [StagedEnd.WaitingTechnician] = "lockout_waiting_technician",
            [StagedEnd.WaitingApproval] = "lockout_waiting_approval",
            [StagedEnd.WaitingPart] = "lockout_waiting_part",
        };
        JsonElement status = await _host!.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status?limit=1000");
        ILookup<string, string> causes = status.GetProperty("rows").EnumerateArray()
            .ToLookup(row => row.GetProperty("unit").GetString()!, row => row.GetProperty("cause").GetString()!);
        foreach (UnitTruth unit in _fleet.Truth().Where(unit => waits.ContainsKey(unit.Staged)))
        {
            output.WriteLine($"{unit.Unit} {unit.Staged}: {string.Join(", ", causes[unit.Unit])}");
            Assert.Contains(waits[unit.Staged], causes[unit.Unit]);
        }

        JsonElement year = await _host.Admin.GetFromJsonAsync<JsonElement>(
            $"/v1/cleaning/compliance?by=operator&from={Fleets.AsOf.AddDays(-300):yyyy-MM-dd'T'HH:mm:ss'Z'}&to={Fleets.AsOf:yyyy-MM-dd'T'HH:mm:ss'Z'}");
        JsonElement hours = year.GetProperty("total").GetProperty("hours_by_cause");
        output.WriteLine(hours.ToString());
        Assert.All(waits.Values, cause => Assert.True(hours.GetProperty(cause).GetDouble() > 100, cause));
        Assert.True(hours.GetProperty("being_worked_on").GetDouble() > 10);
    }

    // 99.9 % bounds: a fixed seed must not fail by bad luck, while a count of washes that drifts, or an entry ignored, falls outside.
    [Theory]
    [InlineData("wash-pump", LifeClock.Washes)]
    [InlineData("suction-hose", LifeClock.Days)]
    public async Task The_lives_on_record_give_the_true_shape_and_scale(string position, LifeClock clock)
    {
        PartWear truth = PartWear.Table.Single(wear => wear.Position == position);

        var fit = Assert.IsType<FittedLife>(WeibullFit.Fit(FleetLives.OnClock([.. await LivesAsync(position)], clock)));
        Estimate shape = WeibullBounds.Shape(fit, 0.999);
        Estimate scale = WeibullBounds.Scale(fit, 0.999);

        output.WriteLine($"{position}: shape {fit.Curve.Shape:F2} ({shape.Lower:F2} to {shape.Upper:F2}), true {truth.Shape}");
        output.WriteLine($"{position}: scale {fit.Curve.Scale:F0} ({scale.Lower:F0} to {scale.Upper:F0}), true {truth.Scale}");
        Assert.InRange(truth.Shape, shape.Lower!.Value, shape.Upper!.Value);
        Assert.InRange(truth.Scale, scale.Lower!.Value, scale.Upper!.Value);
    }

    [Fact]
    public async Task The_answers_name_catalogued_causes_and_the_wrong_ones_that_were_mended_first()
    {
        const string Window = "from=2023-04-01T00:00:00Z&to=2026-03-04T00:00:00Z";
        JsonElement pareto = await _host!.Admin.GetFromJsonAsync<JsonElement>($"/v1/failures/pareto?pareto=cause&{Window}");
        string[] causes = [.. pareto.GetProperty("rows").EnumerateArray().Select(row => row.GetProperty("name").GetString()!.Split(": ")[1])];
        Assert.Subset(FailureWays.OfParts.Concat(FailureWays.Blockages).Select(way => way.Cause).ToHashSet(), causes.ToHashSet());
        Assert.True(causes.Length >= 15);

        JsonElement repeats = await _host.Admin.GetFromJsonAsync<JsonElement>($"/v1/failures/repeats?limit=1000&{Window}");
        HashSet<(string?, string?, string?)> called = [.. repeats.GetProperty("repeats").EnumerateArray()
            .Where(row => row.GetProperty("points_to").GetString() == "wrong_cause_found")
            .Select(row => (row.GetProperty("unit").GetString(), row.GetProperty("position").GetString(), row.GetProperty("code").GetString()))];
        (string?, string?, string?)[] truly = [.. _fleet.Truth().SelectMany(unit => unit.Visits
            .Where(visit => visit.Found is { Mode: not FailureWays.Blocked } && visit.End == VisitEnd.RepairedNotProven
                && visit.Found.Position != visit.Cause!.Position && visit.Cause.Mode != FailureWays.Blocked
                && visit.LeftAt > new DateTimeOffset(2023, 4, 1, 0, 0, 0, TimeSpan.Zero) && visit.LeftAt < Fleets.AsOf.AddDays(-60))
            .Select(visit => ((string?)unit.Unit, (string?)visit.Found!.Position, visit.Fault)))];
        output.WriteLine($"{called.Count} called, {truly.Length} true, {truly.Count(called.Contains)} both");
        Assert.True(truly.Length >= 4);
        Assert.True(truly.Count(called.Contains) >= 0.75 * truly.Length);
    }

    private Task<IReadOnlyList<FleetLife>> LivesAsync(string? position) =>
        _host!.Services.GetRequiredService<FleetLives>().LoadAsync(position, Fleets.AsOf, CancellationToken.None);
}
