using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Commands;
using Washwear.Api.Security;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests;

/// <summary>The program under test: the real web server on a free loopback port, with a fresh database file and a clock to set.</summary>
public sealed class ApiHost : IAsyncDisposable
{
    private const string AdminKey = "test-administrator-key-0123456789";
    private readonly WebApplication _app;
    private readonly string _folder;
    private readonly List<HttpClient> _clients = [];

    private ApiHost(WebApplication app, string folder, SetClock clock)
    {
        _app = app;
        _folder = folder;
        Clock = clock;
    }

    /// <summary>The instant that the clock shows at first.</summary>
    public static DateTimeOffset StartsAt { get; } = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    /// <summary>The clock.</summary>
    public SetClock Clock { get; }

    /// <summary>Where the server listens.</summary>
    public Uri Address => new(_app.Urls.First());

    /// <summary>The program's services.</summary>
    public IServiceProvider Services => _app.Services;

    /// <summary>The database.</summary>
    public Database Database => Services.GetRequiredService<Database>();

    /// <summary>A folder for this test alone, deleted afterwards.</summary>
    public string Folder => _folder;

    /// <summary>A client with the administrator's key, which may do everything.</summary>
    public HttpClient Admin => field ??= Client(AdminKey);

    /// <summary>A client without a key; follows no redirect and keeps cookies.</summary>
    public HttpClient Stranger => field ??= Client(null);

    /// <summary>Starts the program.</summary>
    /// <param name="now">What the clock shows at first.</param>
    /// <param name="settings">Settings beside database, key and address.</param>
    public static async Task<ApiHost> StartAsync(DateTimeOffset? now = null, params (string Name, string Value)[] settings)
    {
        string folder = Directory.CreateTempSubdirectory("washwear-test-").FullName;
        var values = new Dictionary<string, string>
        {
            ["database"] = Path.Combine(folder, "washwear.db"),
            ["admin_key"] = AdminKey,
            ["urls"] = "http://127.0.0.1:0",
            ["log_level"] = "error",
        };
        foreach ((string name, string value) in settings)
        {
            values[name] = value;
        }

        var clock = new SetClock(now ?? StartsAt);
        WebApplication app = Program.Build(Settings.Load(values), clock);
        await Serve.PrepareAsync(app.Services, CancellationToken.None);
        await app.StartAsync();
        return new ApiHost(app, folder, clock);
    }

    /// <summary>Starts a second program on the database of another, as it is: nothing is brought up to date before.</summary>
    /// <param name="other">The other.</param>
    /// <param name="file">Another file than that of the other; null: the same.</param>
    public static async Task<ApiHost> StartOnAsync(ApiHost other, string? file = null)
    {
        Settings settings = other.Services.GetRequiredService<Settings>().With(("database", file ?? other.Database.File));
        WebApplication app = Program.Build(settings, other.Clock);
        await app.StartAsync();
        return new ApiHost(app, Directory.CreateTempSubdirectory("washwear-test-").FullName, other.Clock);
    }

    /// <summary>A client that has just these abilities.</summary>
    /// <param name="abilities">The abilities.</param>
    /// <param name="name">Name of the key, which is the source of the records that it sends.</param>
    /// <param name="scope">What it sees; null: the whole fleet.</param>
    public async Task<HttpClient> ClientAsync(Abilities abilities, string name, Scope? scope = null)
    {
        string? key = await Services.GetRequiredService<Keys>().AddAsync(name, abilities, scope ?? Scope.Everything, CancellationToken.None);
        return Client(key);
    }

    /// <summary>A client with a key, or without one.</summary>
    /// <param name="key">The key.</param>
    public HttpClient Client(string? key)
    {
        var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new CookieContainer() })
        {
            BaseAddress = Address,
            Timeout = TimeSpan.FromSeconds(60),
        };
        if (key is not null)
        {
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        }

        _clients.Add(client);
        return client;
    }

    public async ValueTask DisposeAsync()
    {
        _clients.ForEach(client => client.Dispose());
        await _app.StopAsync();
        await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
