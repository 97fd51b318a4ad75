using Washwear.Api.Messages;
using static Washwear.Api.Tests.Equipment.EquipmentFixture;

namespace Washwear.Api.Tests.Equipment;

/// <summary>Values of the information model become washes and faults, whatever the order in which they come.</summary>
public sealed class EquipmentIntakeTests : IAsyncLifetime
{
    private const string Combi = "opcua/OVEN-1/combi";
    private EquipmentFixture _it = null!;

    public async Task InitializeAsync() => _it = await StartAsync();

    public async Task DisposeAsync() => await _it.DisposeAsync();

    [Fact]
    public async Task Entering_and_leaving_the_cleaning_mode_bound_a_wash_of_unknown_outcome()
    {
        await _it.SendAsync(Combi, Mode(At(0), 6), Mode(At(1), 8), Mode(At(1, 30), 8));
        Assert.Empty(await _it.WashesAsync());
        await _it.SendAsync(Combi, Mode(At(2, 35), 3));

        Assert.Equal(["OVEN-1 01:00 02:35 unknown"], await _it.WashesAsync());
        Assert.Equal(["cleaning/OVEN-1/2026-03-02T01:00:00Z"], await _it.KeysAsync("wash"));
    }

    [Theory]
    [InlineData("""{"CombiSteamerMode":8,"Timestamp":"2026-03-02T01:00:00Z"}""")]
    [InlineData("""{"CombiSteamer":{"CombiSteamerMode":8},"Timestamp":"2026-03-02T01:00:00Z"}""")]
    [InlineData("""{"2:CombiSteamer/2:CombiSteamerMode":"Cleaning_8","Timestamp":"2026-03-02T01:00:00.000Z"}""")]
    [InlineData("""[{"DataSetWriterId":1,"Timestamp":"2026-03-02T01:00:00Z","Payload":{"CombiSteamer.CombiSteamerMode":{"Type":6,"Body":8}}}]""")]
    [InlineData("""{"Messages":{"Timestamp":"2026-03-02T01:00:00Z","Payload":{"CombiSteamerMode":{"UaType":6,"Value":8}}}}""")]
    [InlineData("""{"Messages":[{"Timestamp":"2026-03-02T01:10:00Z","Payload":{"CombiSteamerMode":{"Value":{"Type":6,"Body":8},"StatusCode":{"Code":0},"SourceTimestamp":"2026-03-02T01:00:00Z"}}}]}""")]
    public async Task All_ways_of_writing_the_same_value_are_read(string entering)
    {
        await _it.SendAsync(Combi, entering, Mode(At(2), 1));

        Assert.Equal(["OVEN-1 01:00 02:00 unknown"], await _it.WashesAsync());
    }

    [Theory]
    [InlineData("""{"CombiSteamerMode":{"Value":8,"Status":2147483648,"SourceTimestamp":"2026-03-02T01:00:00Z"}}""")]
    [InlineData("""{"CombiSteamerMode":null,"Timestamp":"2026-03-02T01:00:00Z"}""")]
    [InlineData("""{"SpecialCookingMode":8,"Timestamp":"2026-03-02T01:00:00Z"}""")]
    [InlineData("""{"Messages":[{"MessageType":"ua-keepalive"}]}""")]
    public async Task What_is_bad_or_something_else_is_no_mode(string message)
    {
        IReadOnlyList<MessageOutcome> outcomes = await _it.SendAsync(Combi, message, Mode(At(2), 1));

        Assert.Empty(await _it.WashesAsync());
        Assert.All(outcomes, outcome => Assert.Empty(outcome.Refused));
    }

    [Fact]
    public async Task Each_kind_of_device_has_its_own_cleaning_mode_and_each_chamber_its_own_washes()
    {
        await _it.SendAsync("opcua/OVEN-1/dishwasher", Mode(At(1), 7, "OperationMode"), Mode(At(2), 10, "OperationMode"), Mode(At(3), 1, "OperationMode"));
        await _it.SendAsync("opcua/OVEN-2/oven", Mode(At(1), 7, "Chamber_1/OperationMode"), Mode(At(1, 30), 7, "Chamber_2/OperationMode"),
            Mode(At(2), 3, "Chamber_1/OperationMode"), Mode(At(2, 30), 3, "Chamber_2/OperationMode"));

        Assert.Equal(["OVEN-2 01:00 02:00 unknown", "OVEN-2 01:30 02:30 unknown", "OVEN-1 02:00 03:00 unknown"], await _it.WashesAsync());
        Assert.Contains("cleaning/Chamber_2/OVEN-2/2026-03-02T01:30:00Z", await _it.KeysAsync("wash"));
    }

    [Fact]
    public async Task Two_units_interleaved_are_kept_apart()
    {
        await _it.SendAsync(Combi, Mode(At(1), 8));
        await _it.SendAsync("opcua/OVEN-2/combi", Mode(At(1, 10), 8));
        await _it.SendAsync(Combi, Mode(At(2), 0));
        await _it.SendAsync("opcua/OVEN-2/combi", Mode(At(3), 0));

        Assert.Equal(["OVEN-1 01:00 02:00 unknown", "OVEN-2 01:10 03:00 unknown"], await _it.WashesAsync());
    }

    [Fact]
    public async Task The_same_messages_once_more_change_nothing()
    {
        string[] messages = [Mode(At(1), 8), Alarm(At(1, 20), true), Mode(At(2), 0), Alarm(At(3), false)];
        await _it.SendAsync(Combi, messages);
        IReadOnlyList<MessageOutcome> again = await _it.SendAsync(Combi, messages);

        Assert.Equal(["OVEN-1 01:00 02:00 unknown"], await _it.WashesAsync());
        Assert.Equal(["E21 01:20 03:00"], await _it.FaultsAsync());
        Assert.All(again, outcome => Assert.Equal((0, 0), (outcome.Accepted, outcome.Refused.Count)));
    }

    [Fact]
    public async Task Leaving_told_before_entering_makes_the_same_wash()
    {
        await _it.SendAsync(Combi, Mode(At(2), 0), Mode(At(1), 8));

        Assert.Equal(["OVEN-1 01:00 02:00 unknown"], await _it.WashesAsync());
    }

    [Fact]
    public async Task A_late_message_moves_the_begin_or_the_end_to_the_earlier_instant_and_replaces_the_record()
    {
        await _it.SendAsync(Combi, Mode(At(1), 8), Mode(At(3), 0));
        await _it.SendAsync(Combi, Mode(At(2), 0));
        Assert.Equal(["OVEN-1 01:00 02:00 unknown"], await _it.WashesAsync());
        await _it.SendAsync(Combi, Mode(At(0, 40), 8));

        Assert.Equal(["OVEN-1 00:40 02:00 unknown"], await _it.WashesAsync());
        Assert.Equal(3, (await _it.KeysAsync("wash")).Distinct().Count());
    }

    [Fact]
    public async Task What_comes_more_than_a_week_late_is_not_believed()
    {
        await _it.SendAsync(Combi, Mode(At(1), 0), Mode("2026-02-22T01:00:00Z", 8), Mode("2026-02-22T02:00:00Z", 0));

        Assert.Empty(await _it.WashesAsync());
    }

    [Fact]
    public async Task A_retained_mode_begins_no_wash_twice_and_none_without_an_instant()
    {
        await _it.SendAsync(Combi, retained: true, """{"CombiSteamerMode":8}""");
        await _it.SendAsync(Combi, Mode(At(2), 0));
        Assert.Empty(await _it.WashesAsync());

        await _it.SendAsync(Combi, Mode(At(3), 8));
        await _it.SendAsync(Combi, retained: true, Mode(At(3), 8), """{"CombiSteamerMode":8}""");
        await _it.SendAsync(Combi, Mode(At(4), 0));
        Assert.Equal(["OVEN-1 03:00 04:00 unknown"], await _it.WashesAsync());
    }

    [Fact]
    public async Task An_alarm_is_a_fault_from_its_raising_to_its_clearing_and_decides_no_wash()
    {
        await _it.SendAsync(Combi, Mode(At(1), 8), Alarm(At(1, 20), true), Alarm(At(1, 25), true), Mode(At(2), 10));
        Assert.Equal(["E21 01:20 open"], await _it.FaultsAsync());
        await _it.SendAsync(Combi, Alarm(At(5), false));

        Assert.Equal(["E21 01:20 05:00"], await _it.FaultsAsync());
        Assert.Equal(["OVEN-1 01:00 02:00 unknown"], await _it.WashesAsync());
    }

    [Fact]
    public async Task An_alarm_that_is_too_slight_is_left_out_and_one_that_nobody_mapped_is_refused()
    {
        IReadOnlyList<MessageOutcome> outcomes = await _it.SendAsync(Combi, Alarm(At(1), true, severity: 199), Alarm(At(1), true, "Lamp"));

        Assert.Empty(await _it.FaultsAsync());
        Assert.Equal("not_in_map", Assert.Single(outcomes[1].Refused).Rule);
        Assert.Empty(outcomes[0].Refused);
    }

    [Fact]
    public async Task A_unit_that_tells_of_itself_every_minute_is_heard_once_an_hour()
    {
        for (int minute = 0; minute <= 120; minute++)
        {
            await _it.SendAsync(Combi, $$"""{"CombiSteamerMode":6,"OperationDuration":{{3_600_000L * 1234}},"Timestamp":"{{At(1, minute)}}"}""");
        }

        Assert.Equal(["heartbeat/OVEN-1/2026-03-02T01:00:00Z", "heartbeat/OVEN-1/2026-03-02T02:00:00Z", "heartbeat/OVEN-1/2026-03-02T03:00:00Z"], await _it.KeysAsync("heartbeat"));
        Assert.Equal(3, (await _it.KeysAsync("meter")).Length);
    }

    [Fact]
    public async Task A_unit_that_nobody_registered_fills_no_list()
    {
        for (int minute = 0; minute < 5; minute++)
        {
            await _it.SendAsync("opcua/OVEN-7/combi", Mode(At(1, minute), 8));
        }

        string refused = await _it.Host.Admin.GetStringAsync("/v1/records/refused");
        Assert.Equal(1, System.Text.Json.JsonDocument.Parse(refused).RootElement.GetProperty("items").GetArrayLength());
        Assert.Contains("opcua/OVEN-7/combi", refused, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_clock_that_runs_off_is_refused_and_spoils_nothing()
    {
        IReadOnlyList<MessageOutcome> outcomes = await _it.SendAsync(Combi, Mode("2099-01-01T00:00:00Z", 8), Mode(At(1), 8), Mode(At(2), 0));

        Assert.Equal("instant", Assert.Single(outcomes[0].Refused).Rule);
        Assert.Equal(["OVEN-1 01:00 02:00 unknown"], await _it.WashesAsync());
    }
}
