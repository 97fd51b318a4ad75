using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net.Http.Headers;

namespace Washwear.Faults.Served;

/// <summary>The real program in a process of its own, on a real file, answering real HTTP on loopback.</summary>
internal sealed class ServedProgram : IAsyncDisposable
{
    /// <summary>The administrator's key.</summary>
    public const string AdminKey = "a-key-of-the-fault-tool-0123456789";

    private const int LinesKept = 200;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);
    private readonly Process _process;
    private readonly ConcurrentQueue<string> _lines = new();
    private readonly TaskCompletionSource<Uri> _address = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private ServedProgram(Process process)
    {
        _process = process;
        _ = FollowAsync(process.StandardOutput);
        _ = FollowAsync(process.StandardError);
        _ = process.WaitForExitAsync().ContinueWith(
            _ => _address.TrySetException(new InvalidOperationException("The program ended before it listened: " + Told)), TaskScheduler.Default);
        _ = _address.Task.Exception;
    }

    /// <summary>The last lines that it told.</summary>
    public string Told => string.Join('\n', _lines);

    /// <summary>Number of the process.</summary>
    public int Pid => _process.Id;

    /// <summary>Whether it has ended.</summary>
    public bool HasEnded => _process.HasExited;

    /// <summary>Exit code of the process that has ended.</summary>
    public int ExitCode => _process.ExitCode;

    /// <summary>Starts it without waiting until it listens.</summary>
    /// <param name="options">Where the program is and where it listens.</param>
    /// <param name="file">The database file.</param>
    /// <param name="wrapper">A command that starts it, such as one that sets limits; empty: none.</param>
    /// <param name="settings">Options of the command line.</param>
    public static ServedProgram Begin(FaultOptions options, string file, IReadOnlyList<string> wrapper, params string[] settings) =>
        new(Processes.Start(
            options, wrapper, ["serve", "--database", file, "--urls", options.Url, "--log-level", "warning", .. settings]));

    /// <summary>Starts it and waits until it listens.</summary>
    /// <param name="options">Where the program is and where it listens.</param>
    /// <param name="file">The database file.</param>
    /// <param name="settings">Options of the command line.</param>
    public static async Task<ServedProgram> StartAsync(FaultOptions options, string file, params string[] settings)
    {
        ServedProgram program = Begin(options, file, [], settings);
        await program.ListensAsync();
        return program;
    }

    /// <summary>Waits until it listens.</summary>
    /// <exception cref="InvalidOperationException">It ended before.</exception>
    public Task<Uri> ListensAsync() => _address.Task.WaitAsync(Patience);

    /// <summary>A client with the administrator's key.</summary>
    public async Task<HttpClient> ClientAsync()
    {
        var client = new HttpClient { BaseAddress = await ListensAsync(), Timeout = Patience };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", AdminKey);
        return client;
    }

    /// <summary>Kills it without warning (SIGKILL) and waits until it is gone.</summary>
    public async Task KillAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
        }

        await _process.WaitForExitAsync();
    }

    /// <summary>Sends it a signal.</summary>
    /// <param name="name">Name of the signal, such as STOP.</param>
    public void Signal(string name)
    {
        using Process kill = Process.Start("kill", ["-s", name, Pid.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
    }

    /// <summary>Asks it to end and waits until it has.</summary>
    public async Task StopAsync()
    {
        if (!_process.HasExited)
        {
            Signal("TERM");
            await _process.WaitForExitAsync(new CancellationTokenSource(Patience).Token);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        _process.Dispose();
    }

    private async Task FollowAsync(StreamReader lines)
    {
        const string Before = "Washwear listens on ";
        while (await lines.ReadLineAsync() is { } line)
        {
            _lines.Enqueue(line);
            if (_lines.Count > LinesKept)
            {
                _lines.TryDequeue(out _);
            }

            if (line.StartsWith(Before, StringComparison.Ordinal))
            {
                _address.TrySetResult(new Uri(line[Before.Length..].Split(' ', ',')[0]));
            }
        }
    }
}
