using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Tests.Mqtt;

/// <summary>What goes wrong between broker, program and database loses nothing and doubles nothing.</summary>
public sealed class MqttFailureTests : IAsyncLifetime
{
    private const string Wash = """{"began":1772330400,"cycle":1,"result":0}""";
    private const string Topic = "kitchens/pier/OVEN-1/wash";
    private Broker _broker = null!;

    public async Task InitializeAsync() => _broker = await Broker.StartAsync();

    public async Task DisposeAsync() => await _broker.DisposeAsync();

    [Fact]
    public async Task A_message_whose_acknowledgement_was_lost_comes_again_and_is_a_duplicate()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker);
        _broker.LosesAcknowledgements = true;
        await _broker.PublishAsync(Topic, Wash);
        await MqttHost.AfterAsync(host, 1);
        Assert.Equal(0, _broker.Acknowledged);

        _broker.LosesAcknowledgements = false;
        await _broker.CutOffAsync(MqttHost.ClientId);

        JsonElement account = await MqttHost.AfterAsync(host, 2);
        Assert.Equal((1, 1, 0), (account.GetProperty("accepted").GetInt32(), account.GetProperty("duplicate").GetInt32(), account.GetProperty("refused").GetInt32()));
        await Until.TrueAsync(() => Task.FromResult(_broker.Acknowledged == 1), "the second delivery was acknowledged");
    }

    [Fact]
    public async Task What_the_database_cannot_take_is_not_acknowledged_and_comes_again()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("busy_timeout_seconds", "1"));
        await using (await LockAsync(host.Database.File))
        {
            await _broker.PublishAsync(Topic, Wash);
            await Until.TrueAsync(
                async () => (await MqttHost.StatusAsync(host)) is var status && status.GetProperty("state").GetString() == "waiting"
                    && status.GetProperty("problem").GetString()!.Contains("database busy", StringComparison.Ordinal),
                "the program says that it cannot write");
            Assert.Equal(0, _broker.Acknowledged);
        }

        JsonElement account = await MqttHost.AfterAsync(host, 1);
        Assert.Equal((1, 0), (account.GetProperty("accepted").GetInt32(), account.GetProperty("duplicate").GetInt32()));
        await Until.TrueAsync(() => Task.FromResult(_broker.Acknowledged == 1), "it was acknowledged after its commit");
        Assert.False((await MqttHost.StatusAsync(host)).TryGetProperty("problem", out _));
    }

    [Fact]
    public async Task A_broker_that_stops_leaves_the_service_well_and_is_found_again_when_it_is_back()
    {
        await using ApiHost host = await MqttHost.StartAsync(_broker);
        await _broker.StopAsync();
        await Until.TrueAsync(async () => (await MqttHost.StatusAsync(host)).GetProperty("state").GetString() == "waiting", "the loss is said");
        Assert.NotEmpty((await MqttHost.StatusAsync(host)).GetProperty("problem").GetString()!);
        using (HttpResponseMessage ready = await host.Stranger.GetAsync("/health/ready"))
        {
            Assert.True(ready.IsSuccessStatusCode);
            Assert.Contains("\"state\":\"waiting\"", await ready.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        await _broker.StartAgainAsync();
        await Until.TrueAsync(async () => (await MqttHost.StatusAsync(host)).GetProperty("state").GetString() == "connected", "the connection is back");
        await _broker.PublishAsync(Topic, Wash);

        Assert.Equal(1, (await MqttHost.AfterAsync(host, 1)).GetProperty("accepted").GetInt32());
    }

    [Fact]
    public async Task Messages_that_come_while_the_program_is_away_wait_at_the_broker()
    {
        string file = Path.Combine(_broker.Folder, "washwear.db");
        await using (ApiHost first = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("database", file)))
        {
            await _broker.PublishAsync("alive/OVEN-1", "here");
            await MqttHost.AfterAsync(first, 1);
        }

        await _broker.PublishAsync(Topic, Wash);
        await using ApiHost second = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("database", file));

        Assert.Equal(1, (await MqttHost.AfterAsync(second, 1)).GetProperty("accepted").GetInt32());
        Assert.Equal(["heartbeat", "wash"], (await MqttHost.RecordsAsync(second)).Select(record => record.GetProperty("type").GetString()!));
    }

    [Fact]
    public async Task A_wrong_password_is_said_and_never_shown()
    {
        _broker.OnlyFor = ("washwear", "right-horse");
        (string Name, string Value)[] settings = [.. await MqttHost.SettingsAsync(_broker, MqttHost.Mapping), ("mqtt_user", "washwear"), ("mqtt_password", "wrong-horse")];
        await using ApiHost host = await ApiHost.StartAsync(settings: settings);

        await Until.TrueAsync(async () => (await MqttHost.StatusAsync(host)).GetProperty("state").GetString() == "waiting", "the refusal is said");
        string said = (await MqttHost.StatusAsync(host)).ToString();
        Assert.Contains("BadUserNameOrPassword", said, StringComparison.Ordinal);
        Assert.DoesNotContain("horse", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_right_password_lets_messages_in()
    {
        _broker.OnlyFor = ("washwear", "right-horse");
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("mqtt_user", "washwear"), ("mqtt_password", "right-horse"));
        await _broker.PublishAsync(Topic, Wash);

        Assert.Equal(1, (await MqttHost.AfterAsync(host, 1)).GetProperty("accepted").GetInt32());
    }

    private static async Task<SqliteConnection> LockAsync(string file)
    {
        var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        await connection.OpenAsync();
        await using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "BEGIN IMMEDIATE";
        await command.ExecuteNonQueryAsync();
        return connection;
    }
}
