using System.Text.Json;
using Dapper;

namespace Washwear.Api.Tests.Mqtt;

/// <summary>Messages of a real broker, taken in by the real program.</summary>
public sealed class MqttIntakeTests : IAsyncLifetime
{
    private Broker _broker = null!;

    public async Task InitializeAsync() => _broker = await Broker.StartAsync();

    public async Task DisposeAsync() => await _broker.DisposeAsync();

    [Fact]
    public async Task Each_format_becomes_records_of_its_unit_in_the_order_of_the_messages()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker);

        await _broker.PublishAsync("kitchens/pier/OVEN-1/record", """{"type":"wash","key":"w0","unit":"OVEN-1","at":"2026-03-01T02:00:00Z","grade":"light","outcome":"completed"}""");
        await _broker.PublishAsync("kitchens/pier/oven-1/wash", """{"began":1772330400,"ended":1772336100,"cycle":17,"result":0}""");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":1772416800,"cycle":18,"result":7,"fault":"P1"}""");
        await _broker.PublishAsync("serials/S%2F1/hours", "3000");
        await _broker.PublishAsync("alive/OVEN-1", "here");

        JsonElement account = await MqttHost.AfterAsync(host, 5);
        JsonElement[] records = await MqttHost.RecordsAsync(host);
        Assert.Equal(["wash", "wash", "wash", "fault", "heartbeat"], records.Select(record => record.GetProperty("type").GetString()));
        Assert.All(records, record => Assert.Equal(("OVEN-1", "gateway"), (record.GetProperty("unit").GetString(), record.GetProperty("source").GetString())));
        Assert.Equal("oven-1/17", records[1].GetProperty("key").GetString());
        Assert.Equal("2026-03-01T02:00:00Z", records[1].GetProperty("at").GetString());
        Assert.Equal((5, 0), (account.GetProperty("accepted").GetInt32(), account.GetProperty("duplicate").GetInt32()));
        await using var connection = await host.Database.OpenReadAsync(CancellationToken.None);
        Assert.Equal(["completed", "completed", "unknown"], await connection.QueryAsync<string>("SELECT outcome FROM wash ORDER BY seq"));
        Assert.Equal(1772336100000, await connection.ExecuteScalarAsync<long>("SELECT ended_ms FROM wash ORDER BY seq LIMIT 1 OFFSET 1"));
        Assert.Equal("E21", await connection.ExecuteScalarAsync<string>("SELECT code FROM fault"));

        // A serial number with a slash cannot be a level of a topic: said, not guessed.
        Assert.Equal("unknown_serial", Assert.Single(await MqttHost.RefusedAsync(host)).GetProperty("problem").GetProperty("rule").GetString());
    }

    [Fact]
    public async Task A_unit_is_found_by_its_serial_number_and_a_number_alone_is_a_reading()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping.Replace("serials/{serial}/hours", "serials/{serial}/{number}/hours", StringComparison.Ordinal)
            .Replace("""{ "level": "serial", "by": "serial" }""", """{ "template": "{serial}/{number}", "by": "serial" }""", StringComparison.Ordinal));

        await _broker.PublishAsync("serials/s/1/hours", "3000");

        await MqttHost.AfterAsync(host, 1);
        await using var connection = await host.Database.OpenReadAsync(CancellationToken.None);
        Assert.Equal(1500, await connection.ExecuteScalarAsync<double>("SELECT operating_hours_total FROM meter"));
        Assert.Equal(ApiHost.StartsAt.ToUnixTimeMilliseconds(), await connection.ExecuteScalarAsync<long>("SELECT read_ms FROM meter"));
    }

    [Fact]
    public async Task What_cannot_be_taken_is_kept_said_and_acknowledged_and_holds_nothing_up()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker);

        await _broker.PublishAsync("kitchens/pier/OVEN-9/wash", """{"began":1772330400,"cycle":1,"result":0}""");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":1772330400,"result":0}""");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":"yesterday","cycle":2,"result":0}""");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", "{\"began\":");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":1772330400,"cycle":"\ud800","result":0}""");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/record", """[{"type":"wash","key":"k","unit":"OVEN-1"},{"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-03-01T00:00:00Z"}]""");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/record", "no record");
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":1772330400,"cycle":3,"result":0}""");

        JsonElement account = await MqttHost.AfterAsync(host, 8);
        Assert.Equal((2, 7), (account.GetProperty("accepted").GetInt32(), account.GetProperty("refused").GetInt32()));
        JsonElement[] refused = await MqttHost.RefusedAsync(host);
        Assert.Equal(
            ["unit unknown_unit", "key missing_in_message", "at instant", " not_json", "payload text", "started_at missing", " unreadable"],
            refused.Select(row => row.GetProperty("problem")).Select(problem => problem.GetProperty("field") + " " + problem.GetProperty("rule")));
        Assert.All(refused, row => Assert.NotEmpty(row.GetProperty("problem").GetProperty("mend").GetString()!));
        Assert.Contains("kitchens/pier/OVEN-1/wash", refused[1].GetProperty("body").GetString(), StringComparison.Ordinal);
        await Until.TrueAsync(() => Task.FromResult(_broker.Acknowledged == 8), "all eight messages were acknowledged");
    }

    [Fact]
    public async Task A_row_that_the_rules_refused_can_be_mended_and_sent_as_it_is_listed()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker);
        await _broker.PublishAsync("kitchens/pier/OVEN-9/wash", """{"began":1772330400,"cycle":1,"result":0}""");
        await MqttHost.AfterAsync(host, 1);

        string body = Assert.Single(await MqttHost.RefusedAsync(host)).GetProperty("body").GetString()!;
        Ingest.Sending.AssertCounts(await Ingest.Sending.SendAsync(host.Admin, body.Replace("OVEN-9\",\"at", "OVEN-1\",\"at", StringComparison.Ordinal)), accepted: 1);

        Assert.Empty(await MqttHost.RefusedAsync(host));
    }

    [Fact]
    public async Task A_retained_message_without_an_instant_of_its_own_says_nothing_about_now_and_one_with_an_instant_counts_once()
    {
        string file = Path.Combine(_broker.Folder, "washwear.db");
        await using (await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("database", file), ("mqtt_client_id", "another")))
        {
        }

        await _broker.PublishAsync("alive/OVEN-1", "here", retain: true);
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":1772330400,"cycle":1,"result":0}""", retain: true);
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("database", file));

        await MqttHost.AfterAsync(host, 2);
        await _broker.CutOffAsync(MqttHost.ClientId);
        await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", """{"began":1772330400,"cycle":1,"result":0}""", retain: true);

        JsonElement account = await MqttHost.AfterAsync(host, 3);
        Assert.Equal((1, 1, 1), (account.GetProperty("accepted").GetInt32(), account.GetProperty("duplicate").GetInt32(), account.GetProperty("ignored").GetInt32()));
        Assert.Equal("wash", Assert.Single(await MqttHost.RecordsAsync(host)).GetProperty("type").GetString());
    }

    [Fact]
    public async Task A_key_of_its_own_makes_a_message_the_same_whenever_it_arrives()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker, """
            {"subscriptions":[{"topic":"done/{unit}","payload":"text","records":[
              {"type":"wash","unit":{"level":"unit"},"key":[{"payload":true}],"fields":{"outcome":{"constant":"unknown"}}}]}]}
            """);
        await _broker.PublishAsync("done/OVEN-1", "cycle 4");
        await MqttHost.AfterAsync(host, 1);
        host.Clock.Advance(TimeSpan.FromMinutes(3));
        await _broker.PublishAsync("done/OVEN-1", "cycle 4");

        JsonElement account = await MqttHost.AfterAsync(host, 2);
        Assert.Equal((1, 1, 0), (account.GetProperty("accepted").GetInt32(), account.GetProperty("duplicate").GetInt32(), account.GetProperty("refused").GetInt32()));
    }

    [Theory]
    [InlineData("5")]
    [InlineData("3.1.1")]
    public async Task The_broker_is_asked_for_a_lasting_session_and_for_no_more_than_can_wait_here(string version)
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("mqtt_version", version), ("mqtt_in_flight", "7"), ("mqtt_session_hours", "2"));
        await _broker.PublishAsync("alive/OVEN-1", "here");
        await MqttHost.AfterAsync(host, 1);

        Assert.False(_broker.LastConnect!.CleanSession);
        Assert.Equal(version == "5" ? 7200u : 0u, _broker.LastConnect.SessionExpiryInterval);
        Assert.Equal(version == "5" ? 7 : 0, _broker.LastConnect.ReceiveMaximum);
    }

    [Fact]
    public async Task Many_messages_of_two_units_keep_the_order_of_each_topic_through_a_narrow_window()
    {
        const int Each = 300;
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("mqtt_in_flight", "5"));
        await Registry.Samples.PutAsync(host.Admin, "/v1/units/OVEN-2", Registry.Samples.Unit.Replace("S/1", "S/2", StringComparison.Ordinal));
        for (int index = 0; index < Each; index++)
        {
            await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", $$"""{"began":{{1772000000 + (index * 60)}},"cycle":{{index}},"result":0}""");
            await _broker.PublishAsync("kitchens/pier/OVEN-2/wash", $$"""{"began":{{1772000000 + (index * 60)}},"cycle":{{index}},"result":0}""");
        }

        JsonElement account = await MqttHost.AfterAsync(host, 2 * Each);
        Assert.Equal(2 * Each, account.GetProperty("accepted").GetInt32());
        JsonElement[] records = await MqttHost.RecordsAsync(host);
        foreach (string unit in new[] { "OVEN-1", "OVEN-2" })
        {
            Assert.Equal(
                Enumerable.Range(0, Each).Select(index => $"{unit}/{index}"),
                records.Where(record => record.GetProperty("unit").GetString() == unit).Select(record => record.GetProperty("key").GetString()!));
        }

        await Until.TrueAsync(() => Task.FromResult(_broker.Acknowledged == 2 * Each), "all messages were acknowledged");
    }
}
