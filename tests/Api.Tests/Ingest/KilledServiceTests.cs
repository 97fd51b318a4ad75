using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using Dapper;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Ingest;

/// <summary>The program in a process of its own, killed without warning while records come in.</summary>
public sealed class KilledServiceTests : IDisposable
{
    private const string AdminKey = "test-administrator-key-0123456789";
    private const int RowsPerBatch = 300;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private static readonly DateTimeOffset Begin = new(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-kill-test-").FullName;

    [Fact]
    public async Task What_was_acknowledged_is_there_and_the_projections_agree_with_it()
    {
        string file = Path.Combine(_folder, "washwear.db");
        int acknowledged = await SendUntilKilledAsync(file, after: 4);
        Assert.True(acknowledged >= 4, "killed too early to say anything");

        await using ApiHost host = await ApiHost.StartAsync(settings: ("database", file));
        await using var connection = await host.Database.OpenReadAsync(CancellationToken.None);
        Assert.Equal("ok", await connection.ExecuteScalarAsync<string>("PRAGMA integrity_check"));
        long records = await connection.ExecuteScalarAsync<long>("SELECT count(*) FROM record");
        Assert.True(records >= acknowledged * RowsPerBatch, $"{records} records, {acknowledged} batches acknowledged");
        Assert.Equal(records, await connection.ExecuteScalarAsync<long>("SELECT count(*) FROM wash_span"));
        Assert.Equal(records, await connection.ExecuteScalarAsync<long>("SELECT washes_run FROM unit_status"));

        for (int batch = 0; batch < acknowledged; batch++)
        {
            Sending.AssertCounts(await Sending.SendAsync(host.Admin, Body(batch), "application/x-ndjson"), duplicate: RowsPerBatch);
        }

        Sending.AssertCounts(await Sending.SendAsync(host.Admin, Body(1000), "application/x-ndjson"), accepted: RowsPerBatch);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private async Task<int> SendUntilKilledAsync(string file, int after)
    {
        using Process service = Process.Start(new ProcessStartInfo(
            "dotnet",
            [typeof(Program).Assembly.Location, "serve", "--database", file, "--urls", "http://127.0.0.1:0"])
        {
            RedirectStandardOutput = true,
            WorkingDirectory = _folder,
            Environment = { ["WASHWEAR_ADMIN_KEY"] = AdminKey },
        })!;
        try
        {
            using var client = new HttpClient { BaseAddress = await AddressAsync(service), Timeout = Patience };
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", AdminKey);
            await Samples.PutAllAsync(client);
            return await SendAsync(client, service, after);
        }
        finally
        {
            service.Kill();
            await service.WaitForExitAsync();
        }
    }

    // Kills from beside, so that the blow falls at any point of a batch.
    private static async Task<int> SendAsync(HttpClient client, Process service, int after)
    {
        int acknowledged = 0;
        Task? blow = null;
        try
        {
            while (true)
            {
                await Sending.SendAsync(client, Body(acknowledged), "application/x-ndjson");
                acknowledged++;
                if (acknowledged == after)
                {
                    blow = Task.Run(async () =>
                    {
                        await Task.Delay(37);
                        service.Kill();
                    });
                }
            }
        }
        catch (HttpRequestException)
        {
            await (blow ?? Task.CompletedTask);
            return acknowledged;
        }
    }

    private static async Task<Uri> AddressAsync(Process service)
    {
        using var patience = new CancellationTokenSource(Patience);
        while (await service.StandardOutput.ReadLineAsync(patience.Token) is { } line)
        {
            int start = line.IndexOf("http://127.0.0.1:", StringComparison.Ordinal);
            if (start >= 0)
            {
                _ = service.StandardOutput.ReadToEndAsync(CancellationToken.None);
                return new Uri(line[start..].Split(' ', ',')[0]);
            }
        }

        throw new InvalidOperationException("The service ended before it told its address.");
    }

    private static string Body(int batch)
    {
        var text = new StringBuilder();
        for (int row = 0; row < RowsPerBatch; row++)
        {
            string at = Begin.AddMinutes((batch * RowsPerBatch) + row).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
            text.AppendLine(Sending.Wash($"{batch}-{row}", batch == 1000 ? "2026-02-01T00:00:00Z" : at));
        }

        return text.ToString();
    }
}
