using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Mqtt;

/// <summary>The program in a process of its own, killed after it received messages and before it could commit them.</summary>
public sealed class KilledIntakeTests : IAsyncLifetime
{
    private const string AdminKey = "test-administrator-key-0123456789";
    private const int Messages = 20;
    private Broker _broker = null!;

    public async Task InitializeAsync() => _broker = await Broker.StartAsync();

    public async Task DisposeAsync() => await _broker.DisposeAsync();

    [Fact]
    public async Task Messages_received_and_not_committed_are_taken_in_once_by_the_next_start()
    {
        string file = Path.Combine(_broker.Folder, "washwear.db");
        (string Name, string Value)[] settings = [.. await MqttHost.SettingsAsync(_broker, MqttHost.Mapping), ("database", file), ("busy_timeout_seconds", "300")];
        using Process service = Start(settings);
        try
        {
            using var client = new HttpClient { BaseAddress = await AddressAsync(service) };
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", AdminKey);
            await Samples.PutAllAsync(client);
            await Until.TrueAsync(() => _broker.HasAsync(MqttHost.ClientId), "the program is connected");
            await using SqliteConnection held = await HoldAsync(file);
            for (int cycle = 0; cycle < Messages; cycle++)
            {
                await _broker.PublishAsync("kitchens/pier/OVEN-1/wash", Wash(cycle));
            }

            await Until.TrueAsync(async () => (await MqttAsync(client)).TryGetProperty("last_message_at", out _), "messages were received");
            Assert.Equal(0, (await MqttAsync(client)).GetProperty("messages").GetInt32());
            service.Kill();
            await service.WaitForExitAsync();
        }
        finally
        {
            if (!service.HasExited)
            {
                service.Kill();
            }
        }

        Assert.Equal(0, _broker.Acknowledged);
        await using ApiHost host = await MqttHost.StartAsync(_broker, MqttHost.Mapping, ("database", file));
        JsonElement account = await MqttHost.AfterAsync(host, Messages);
        Assert.Equal((Messages, 0, 0), (account.GetProperty("accepted").GetInt32(), account.GetProperty("duplicate").GetInt32(), account.GetProperty("refused").GetInt32()));
        Assert.Equal(
            Enumerable.Range(0, Messages).Select(cycle => $"OVEN-1/{cycle}"),
            (await MqttHost.RecordsAsync(host)).Select(record => record.GetProperty("key").GetString()!));
    }

    private static string Wash(int cycle) => $$"""{"began":{{1772000000 + (cycle * 60)}},"cycle":{{cycle}},"result":0}""";

    private Process Start((string Name, string Value)[] settings)
    {
        var start = new ProcessStartInfo(
            "dotnet",
            [typeof(Program).Assembly.Location, "serve", "--urls", "http://127.0.0.1:0", .. settings.SelectMany(setting => new[] { "--" + setting.Name.Replace('_', '-'), setting.Value })])
        {
            RedirectStandardOutput = true,
            WorkingDirectory = _broker.Folder,
            Environment = { ["WASHWEAR_ADMIN_KEY"] = AdminKey },
        };
        return Process.Start(start)!;
    }

    private static async Task<JsonElement> MqttAsync(HttpClient client) =>
        JsonDocument.Parse(await client.GetStringAsync("/health/live")).RootElement.GetProperty("mqtt");

    // Nobody else can commit while this is held.
    private static async Task<SqliteConnection> HoldAsync(string file)
    {
        var connection = new SqliteConnection(string.Create(CultureInfo.InvariantCulture, $"Data Source={file};Pooling=False"));
        await connection.OpenAsync();
        await using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "BEGIN IMMEDIATE";
        await command.ExecuteNonQueryAsync();
        return connection;
    }

    private static async Task<Uri> AddressAsync(Process service)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (await service.StandardOutput.ReadLineAsync(patience.Token) is { } line)
        {
            if (line.StartsWith("Washwear listens on ", StringComparison.Ordinal))
            {
                _ = service.StandardOutput.ReadToEndAsync(CancellationToken.None);
                return new Uri(line["Washwear listens on ".Length..].Split(' ', ',')[0]);
            }
        }

        throw new InvalidOperationException("The service ended before it told its address.");
    }
}
