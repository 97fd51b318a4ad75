using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using Washwear.Api.Http;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Ingest;

/// <summary>The program in a process of its own, on a free loopback port, with a fresh database file.</summary>
internal sealed class ServerProcess : IAsyncDisposable
{
    private const string Key = "a-key-of-the-benchmarks-0123456789";
    private readonly Process _process;
    private readonly string _folder;

    private ServerProcess(Process process, string folder, Uri address)
    {
        _process = process;
        _folder = folder;
        Address = address;
        Client = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromMinutes(10) };
        Client.DefaultRequestHeaders.Authorization = AuthenticationHeaderValue.Parse(Authorization);
    }

    /// <summary>Value of the header by which the caller is known.</summary>
    public static string Authorization => "Bearer " + Key;

    /// <summary>Where it listens.</summary>
    public Uri Address { get; }

    /// <summary>A client that may do everything.</summary>
    public HttpClient Client { get; }

    /// <summary>Size of the database and its log, megabytes.</summary>
    public double FileMegabytes => Directory.EnumerateFiles(_folder).Sum(file => new FileInfo(file).Length) / 1e6;

    /// <summary>Size of the log beside the database, megabytes.</summary>
    public double LogMegabytes => new FileInfo(Path.Combine(_folder, "washwear.db-wal")) is { Exists: true } log ? log.Length / 1e6 : 0;

    /// <summary>Memory that the process holds (resident set), megabytes.</summary>
    public double ResidentMegabytes
    {
        get
        {
            _process.Refresh();
            return _process.WorkingSet64 / 1e6;
        }
    }

    /// <summary>Processor time that the process has used, seconds.</summary>
    public double ProcessorSeconds
    {
        get
        {
            _process.Refresh();
            return _process.TotalProcessorTime.TotalSeconds;
        }
    }

    /// <summary>Starts it.</summary>
    public static async Task<ServerProcess> StartAsync()
    {
        string folder = Directory.CreateTempSubdirectory("washwear-benchmark-").FullName;
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardInput = true, RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(start.FileName) == "dotnet")
        {
            start.ArgumentList.Add(typeof(ServerProcess).Assembly.Location);
        }

        start.ArgumentList.Add(ServedAlone.Name);
        start.Environment["WASHWEAR_DATABASE"] = Path.Combine(folder, "washwear.db");
        start.Environment["WASHWEAR_ADMIN_KEY"] = Key;
        start.Environment["WASHWEAR_URLS"] = "http://127.0.0.1:0";
        start.Environment["WASHWEAR_LOG_LEVEL"] = "error";
        start.Environment["WASHWEAR_CALLER_REQUESTS_PER_SECOND"] = "0";
        Process process = Process.Start(start)!;
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.StartsWith(ServedAlone.Listens, StringComparison.Ordinal))
            {
                return new ServerProcess(process, folder, new Uri(line[ServedAlone.Listens.Length..]));
            }
        }

        throw new InvalidOperationException("The server did not start; exit status " + process.ExitCode.ToString(CultureInfo.InvariantCulture) + ".");
    }

    /// <summary>Puts a registry in.</summary>
    /// <param name="registry">The registry.</param>
    public async Task PutAsync(RegistryDocument registry)
    {
        using HttpResponseMessage answer = await Client.PutAsJsonAsync("/v1/registry", registry, Json.Options);
        if (!answer.IsSuccessStatusCode)
        {
            throw new InvalidOperationException(await answer.Content.ReadAsStringAsync());
        }
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        _process.StandardInput.Close();
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        try
        {
            await _process.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            _process.Kill();
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
