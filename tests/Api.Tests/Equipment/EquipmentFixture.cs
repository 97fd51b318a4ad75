using System.Globalization;
using System.Text;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Messages;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Equipment;

/// <summary>The program with a database, into which messages of the information model are handed as the broker's would be.</summary>
internal sealed class EquipmentFixture : IAsyncDisposable
{
    public const string Mapping = """
        {
          "source": "opc",
          "subscriptions": [
            { "topic": "opcua/{unit}/combi", "payload": "equipment", "equipment": { "device": "combi_steamer", "unit": { "level": "unit" },
              "alarms": { "codes": { "Wash pump": "E21", "Door": "E40" }, "least_severity": 200 } } },
            { "topic": "opcua/{unit}/oven", "payload": "equipment", "equipment": { "device": "oven_chamber", "unit": { "level": "unit" } } },
            { "topic": "opcua/{unit}/dishwasher", "payload": "equipment", "equipment": { "device": "dishwasher", "unit": { "level": "unit" } } }
          ]
        }
        """;

    private readonly MessageReader _reader;

    private EquipmentFixture(ApiHost host)
    {
        Host = host;
        _reader = new MessageReader(MappingFile.Read(Encoding.UTF8.GetBytes(Mapping), out IReadOnlyList<MappingProblem> problems), 100_000);
        Assert.Empty(problems);
    }

    public ApiHost Host { get; }

    public static async Task<EquipmentFixture> StartAsync()
    {
        ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await Samples.PutAsync(host.Admin, "/v1/units/OVEN-2", Samples.Unit.Replace("S/1", "S/2", StringComparison.Ordinal));
        return new EquipmentFixture(host);
    }

    /// <summary>An instant on the night before the clock of the host.</summary>
    public static string At(int hour, int minute = 0) =>
        new DateTimeOffset(2026, 3, 2, 0, 0, 0, TimeSpan.Zero).AddHours(hour).AddMinutes(minute).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    /// <summary>A network message of OPC UA PubSub with one mode.</summary>
    public static string Mode(string at, int mode, string field = "CombiSteamerMode") => $$$$"""
        {"MessageId":"m","MessageType":"ua-data","PublisherId":"kitchen","Messages":[{"DataSetWriterId":1,"SequenceNumber":1,
         "Payload":{"{{{{field}}}}":{"Value":{{{{mode}}}},"SourceTimestamp":"{{{{at}}}}"}}}]}
        """;

    /// <summary>An alarm.</summary>
    public static string Alarm(string at, bool active, string name = "Wash pump", int severity = 500) => $$$$"""
        {"Messages":[{"Payload":{"EventId":"x","ConditionName":"{{{{name}}}}","SourceNode":"ns=3;i=7","Severity":{{{{severity}}}},"ActiveState":{"Text":"?"},
         "ActiveState/Id":{{{{(active ? "true" : "false")}}}},"Time":"{{{{at}}}}","Message":{"Text":"no water"}}}]}
        """;

    public async Task<IReadOnlyList<MessageOutcome>> SendAsync(string topic, params string[] payloads) =>
        await SendAsync(topic, false, payloads);

    public async Task<IReadOnlyList<MessageOutcome>> SendAsync(string topic, bool retained, params string[] payloads) =>
        await Host.Services.GetRequiredService<MessageIntake>().TakeInAsync(
            _reader, [.. payloads.Select(payload => new Message(topic, Encoding.UTF8.GetBytes(payload), retained, Host.Clock.Now))]);

    /// <summary>Washes that count, as 'unit start end outcome' with times of that day.</summary>
    public Task<string[]> WashesAsync() => ListAsync(
        "SELECT u.code || ' ' || strftime('%H:%M', w.started_ms / 1000, 'unixepoch') || ' ' || strftime('%H:%M', w.ended_ms / 1000, 'unixepoch') || ' ' || w.outcome FROM wash_span w JOIN unit u ON u.id = w.unit_id ORDER BY w.started_ms, u.code");

    /// <summary>Faults that count, as 'code raised cleared'.</summary>
    public Task<string[]> FaultsAsync() => ListAsync(
        "SELECT f.code || ' ' || strftime('%H:%M', f.raised_ms / 1000, 'unixepoch') || ' ' || coalesce(strftime('%H:%M', f.cleared_ms / 1000, 'unixepoch'), 'open') FROM fault_span f ORDER BY f.raised_ms, f.code");

    public Task<string[]> KeysAsync(string type) => ListAsync($"SELECT key FROM record WHERE type = '{type}' ORDER BY seq");

    public ValueTask DisposeAsync() => Host.DisposeAsync();

    private async Task<string[]> ListAsync(string sql)
    {
        await using var connection = await Host.Database.OpenReadAsync(CancellationToken.None);
        return [.. await connection.QueryAsync<string>(sql)];
    }
}
