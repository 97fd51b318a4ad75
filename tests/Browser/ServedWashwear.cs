using System.Diagnostics;
using System.Text.RegularExpressions;

namespace Washwear.Browser;

/// <summary>Washwear as its user starts it: the built program in its own process, on loopback, with a database of its own.</summary>
internal sealed class ServedWashwear : IAsyncDisposable
{
    private static readonly TimeSpan StartTimeout = TimeSpan.FromSeconds(90);
    private readonly Process process;
    private readonly List<string> output = [];
    private readonly string folder;

    private ServedWashwear(Process process, string folder)
    {
        this.process = process;
        this.folder = folder;
    }

    /// <summary>Everything that the program has printed so far.</summary>
    public string Output
    {
        get
        {
            lock (output) return string.Join('\n', output);
        }
    }

    /// <summary>Starts a command of the program and waits until its output matches a pattern.</summary>
    /// <param name="arguments">The command and its options.</param>
    /// <param name="ready">What the output must show; its first group is returned.</param>
    /// <param name="environment">Settings handed over as environment variables.</param>
    public static async Task<(ServedWashwear Served, string Found)> StartAsync(
        string[] arguments, Regex ready, IReadOnlyDictionary<string, string>? environment = null)
    {
        string folder = Directory.CreateTempSubdirectory("washwear-browser-").FullName;
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = folder };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Washwear.Api.dll"));
        foreach (string argument in arguments) start.ArgumentList.Add(argument.Replace("{folder}", folder, StringComparison.Ordinal));
        foreach (var (name, value) in environment ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value.Replace("{folder}", folder, StringComparison.Ordinal);
        }

        var served = new ServedWashwear(new Process { StartInfo = start }, folder);
        var found = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        served.process.OutputDataReceived += (_, line) => served.Take(line.Data, ready, found);
        served.process.ErrorDataReceived += (_, line) => served.Take(line.Data, ready, found);
        served.process.EnableRaisingEvents = true;
        served.process.Exited += (_, _) => found.TrySetException(new InvalidOperationException("Ended early:\n" + served.Output));
        served.process.Start();
        served.process.BeginOutputReadLine();
        served.process.BeginErrorReadLine();
        try
        {
            return (served, await found.Task.WaitAsync(StartTimeout));
        }
        catch
        {
            await served.DisposeAsync();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
        }

        process.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private void Take(string? line, Regex ready, TaskCompletionSource<string> found)
    {
        if (line is null) return;
        lock (output) output.Add(line);
        if (ready.Match(line) is { Success: true } match) found.TrySetResult(match.Groups[1].Value);
    }
}
