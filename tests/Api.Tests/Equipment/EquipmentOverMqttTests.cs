using System.Text.Json;
using Washwear.Api.Tests.Mqtt;
using static Washwear.Api.Tests.Equipment.EquipmentFixture;

namespace Washwear.Api.Tests.Equipment;

/// <summary>From a real broker to the answer about cleaning.</summary>
public sealed class EquipmentOverMqttTests
{
    [Fact]
    public async Task A_cleaning_that_began_before_a_restart_and_ended_after_it_is_one_wash_that_does_not_count()
    {
        await using Broker broker = await Broker.StartAsync();
        string file = Path.Combine(broker.Folder, "washwear.db");
        await using (ApiHost first = await MqttHost.StartAsync(broker, EquipmentFixture.Mapping, ("database", file)))
        {
            await broker.PublishAsync("opcua/OVEN-1/combi", Mode(At(0), 6));
            await broker.PublishAsync("opcua/OVEN-1/combi", Mode(At(1), 8));
            await MqttHost.AfterAsync(first, 2);
        }

        await broker.PublishAsync("opcua/OVEN-1/combi", Alarm(At(1, 30), true));
        await broker.PublishAsync("opcua/OVEN-1/combi", Mode(At(2, 35), 3));
        await broker.PublishAsync("opcua/OVEN-1/combi", Alarm(At(2, 40), false));
        await using ApiHost second = await MqttHost.StartAsync(broker, EquipmentFixture.Mapping, ("database", file));
        await MqttHost.AfterAsync(second, 3);

        JsonElement[] records = await MqttHost.RecordsAsync(second);
        Assert.Single(records, record => record.GetProperty("type").GetString() == "wash");
        Assert.All(records, record => Assert.Equal("opc", record.GetProperty("source").GetString()));
        JsonElement status = Assert.Single(JsonDocument.Parse(await second.Admin.GetStringAsync("/v1/cleaning/status")).RootElement.GetProperty("rows").EnumerateArray());
        Assert.Equal(("overdue", "wash_did_not_count"), (status.GetProperty("state").GetString(), status.GetProperty("cause").GetString()));
        Assert.Equal(JsonValueKind.Null, status.GetProperty("last_counted_wash_at").ValueKind);
        string history = await second.Admin.GetStringAsync("/v1/units/OVEN-1/history");
        Assert.Contains("E21", history, StringComparison.Ordinal);
    }
}
