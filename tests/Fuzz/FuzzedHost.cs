using System.Data.Common;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Dapper;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api;
using Washwear.Api.Commands;
using Washwear.Api.Storage;

namespace Washwear.Fuzz;

/// <summary>The program on a free loopback port with a fresh database file, a small registry and a clock that stands still.</summary>
public sealed class FuzzedHost : IAsyncDisposable
{
    private const string Key = "a-key-of-the-fuzzing-0123456789";
    private const string Model = """
        {"name":"Ten-tray oven","kind":"combi oven","positions":[
           {"position":"wash-pump","name":"Wash pump","failure_modes":["leaks","seized"],"part_numbers":["P/100-2"],"companions":["suction-hose"],"replace_minutes":35,"part_cost":180.5},
           {"position":"suction-hose","name":"Pump suction hose"}],
         "programmes":[{"programme":"short","grade":"light","minutes":45},{"programme":"long","grade":"intensive","detergent_doses":2}],
         "faults":[{"code":"E21","text":"No water circulates","locks_out_washing":true,
            "causes":[{"position":"wash-pump","failure_mode":"seized","cause":"scale","prior_weight":3}],
            "checks":[{"check":"turn-impeller","text":"Turn the impeller by hand","minutes":5,"positions":["wash-pump"],"chance_of_missing":0.1}]}]}
        """;

    private static readonly DateTimeOffset Now = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    private readonly WebApplication _app;
    private readonly string _folder;

    private FuzzedHost(WebApplication app, string folder, TimeSpan deadline)
    {
        _app = app;
        _folder = folder;
        Client = new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseCookies = true,
            CookieContainer = new CookieContainer(),
            RequestHeaderEncodingSelector = (_, _) => Encoding.Latin1,
            ResponseHeaderEncodingSelector = (_, _) => Encoding.Latin1,
        })
        {
            BaseAddress = new Uri(app.Urls.First()),
            Timeout = deadline,
        };
        Client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Key);
    }

    /// <summary>A client that may do everything; a request that takes longer than the deadline is cancelled.</summary>
    public HttpClient Client { get; }

    /// <summary>Starts it.</summary>
    /// <param name="deadline">Longest that an answer may take.</param>
    public static async Task<FuzzedHost> StartAsync(TimeSpan deadline)
    {
        string folder = Directory.CreateTempSubdirectory("washwear-fuzz-").FullName;
        WebApplication app = Washwear.Api.Program.Build(
            Settings.Load(new Dictionary<string, string>
            {
                ["database"] = Path.Combine(folder, "washwear.db"),
                ["admin_key"] = Key,
                ["urls"] = "http://127.0.0.1:0",
                ["log_level"] = "error",
                ["caller_requests_per_second"] = "0",
                ["metrics"] = "no",
                ["expanded_limit_mib"] = "16",
                ["alert_check_minutes"] = "0",
                ["webhook_poll_seconds"] = "0",
            }),
            new StandingClock());
        await Serve.PrepareAsync(app.Services, CancellationToken.None);
        await app.StartAsync();
        var host = new FuzzedHost(app, folder, deadline);
        await host.PutRegistryAsync();
        return host;
    }

    /// <summary>What is wrong with the database: faults that 'check' finds, and records that are not as many as were accepted.</summary>
    /// <param name="accepted">Rows that were said to be accepted; null: not counted.</param>
    public async Task<IReadOnlyList<string>> FaultsAsync(long? accepted)
    {
        await using DbConnection connection = await _app.Services.GetRequiredService<Database>().OpenReadAsync(CancellationToken.None);
        var faults = new List<string>(await IntegrityQueries.FaultsAsync(connection, CancellationToken.None));
        long kept = await connection.ExecuteScalarAsync<long>("SELECT count(*) FROM record");
        if (accepted is { } expected && kept != expected)
        {
            faults.Add($"{expected} rows were said to be accepted, {kept} are in the ledger");
        }

        return faults;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private async Task PutRegistryAsync()
    {
        await PutAsync("/v1/operators/harbour", """{"name":"Harbour Kitchens (invented)"}""");
        await PutAsync("/v1/sites/PIER-4", """{"operator":"harbour","name":"Pier 4","time_zone":"Europe/Vienna","trading_days":{"weekdays":["mon","tue","wed","thu","fri","sat"],"ends_at":"02:00"}}""");
        await PutAsync("/v1/models/T10", Model);
        await PutAsync("/v1/rules/daily", """{"scope":{"operator":"harbour"},"grade":"light","every_trading_days":1,"grace_hours":2,"basis":"House rule 7"}""");
        for (int unit = 1; unit <= 100; unit++)
        {
            await PutAsync($"/v1/units/OVEN-{unit}", $$"""{"site":"PIER-4","model":"T10","serial":"S/{{unit}}","commissioned_on":"2023-05-01","reporting_hours":48}""");
        }
    }

    private async Task PutAsync(string path, string body)
    {
        using HttpResponseMessage answer = await Client.PutAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        if (!answer.IsSuccessStatusCode)
        {
            throw new InvalidOperationException(path + ": " + await answer.Content.ReadAsStringAsync());
        }
    }

    private sealed class StandingClock : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => Now;
    }
}
