using System.Net.Http.Headers;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api;
using Washwear.Api.Commands;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Benchmarks;

/// <summary>The program on a free loopback port, with a fresh database file.</summary>
internal sealed class Served : IAsyncDisposable
{
    private const string Key = "a-key-of-the-benchmarks-0123456789";
    private readonly WebApplication _app;
    private readonly string _folder;

    private Served(WebApplication app, string folder)
    {
        _app = app;
        _folder = folder;
        Client = new HttpClient { BaseAddress = new Uri(app.Urls.First()), Timeout = TimeSpan.FromMinutes(5) };
        Client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Key);
    }

    /// <summary>A client that may do everything.</summary>
    public HttpClient Client { get; }

    /// <summary>The database.</summary>
    public Database Database => _app.Services.GetRequiredService<Database>();

    /// <summary>A part of the program.</summary>
    /// <typeparam name="T">Its type.</typeparam>
    public T Service<T>()
        where T : notnull => _app.Services.GetRequiredService<T>();

    /// <summary>Starts it.</summary>
    public static Task<Served> StartAsync() => StartAsync(Directory.CreateTempSubdirectory("washwear-benchmark-").FullName);

    /// <summary>Ends it and starts it anew on the same database, so that it remembers nothing.</summary>
    public async Task<Served> AnewAsync()
    {
        await StopAsync();
        return await StartAsync(_folder);
    }

    private static async Task<Served> StartAsync(string folder)
    {
        WebApplication app = Washwear.Api.Program.Build(Settings.Load(new Dictionary<string, string>
        {
            ["database"] = Path.Combine(folder, "washwear.db"),
            ["admin_key"] = Key,
            ["urls"] = "http://127.0.0.1:0",
            ["log_level"] = "error",
            ["caller_requests_per_second"] = "0",
        }));
        await Serve.PrepareAsync(app.Services, CancellationToken.None);
        await app.StartAsync();
        return new Served(app, folder);
    }

    /// <summary>Puts an invented registry in, and its records if they are wanted.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="withRecords">Whether the records are wanted too.</param>
    public async Task LoadAsync(SimulatedFleet fleet, bool withRecords)
    {
        await _app.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None);
        if (withRecords)
        {
            await _app.Services.GetRequiredService<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
        }
    }

    /// <summary>Takes records in from memory, past HTTP.</summary>
    /// <param name="records">The records.</param>
    public Task<IngestAnswer> TakeInAsync(IEnumerable<IncomingRecord> records) =>
        _app.Services.GetRequiredService<IngestService>().TakeInAsync(records, CancellationToken.None);

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private async Task StopAsync()
    {
        Client.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
    }
}
