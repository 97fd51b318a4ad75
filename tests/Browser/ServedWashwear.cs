using System.Diagnostics;
using System.Text.RegularExpressions;

namespace Washwear.Browser;

/// <summary>Washwear as its user starts it: the built program in its own process, on loopback, with a database of its own.</summary>
internal sealed class ServedWashwear : IAsyncDisposable
{
    private static readonly TimeSpan StartTimeout = TimeSpan.FromSeconds(120);
    private readonly Process _process;
    private readonly List<string> _output = [];
    private readonly string _folder;

    private ServedWashwear(Process process, string folder)
    {
        _process = process;
        _folder = folder;
    }

    /// <summary>Starts a command of the program and waits until its output matches a pattern.</summary>
    /// <param name="arguments">The command and its options; {folder} stands for a folder of its own.</param>
    /// <param name="ready">What a line of the output must show; its first group is returned.</param>
    /// <param name="environment">Settings handed over as environment variables.</param>
    /// <param name="copied">A folder whose files lie in that folder from the beginning; null: none.</param>
    public static async Task<(ServedWashwear Served, string Found)> StartAsync(
        string[] arguments, Regex ready, IReadOnlyDictionary<string, string>? environment = null, string? copied = null)
    {
        string folder = Directory.CreateTempSubdirectory("washwear-browser-").FullName;
        foreach (string file in copied is null ? [] : Directory.EnumerateFiles(copied, "*", SearchOption.AllDirectories))
        {
            string copy = Path.Combine(folder, Path.GetRelativePath(copied!, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(file, copy);
        }

        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = folder };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Washwear.Api.dll"));
        foreach (string argument in arguments)
        {
            start.ArgumentList.Add(argument.Replace("{folder}", folder, StringComparison.Ordinal));
        }

        foreach ((string name, string value) in environment ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value.Replace("{folder}", folder, StringComparison.Ordinal);
        }

        var served = new ServedWashwear(new Process { StartInfo = start }, folder);
        try
        {
            return (served, await served.RunUntilAsync(ready));
        }
        catch
        {
            await served.DisposeAsync();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private Task<string> RunUntilAsync(Regex ready)
    {
        var found = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        _process.OutputDataReceived += (_, line) => Take(line.Data, ready, found);
        _process.ErrorDataReceived += (_, line) => Take(line.Data, ready, found);
        _process.EnableRaisingEvents = true;
        _process.Exited += (_, _) => found.TrySetException(new InvalidOperationException("Ended early:\n" + Output()));
        _process.Start();
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
        return found.Task.WaitAsync(StartTimeout);
    }

    private string Output()
    {
        lock (_output)
        {
            return string.Join('\n', _output);
        }
    }

    private void Take(string? line, Regex ready, TaskCompletionSource<string> found)
    {
        if (line is null)
        {
            return;
        }

        lock (_output)
        {
            _output.Add(line);
        }

        if (ready.Match(line) is { Success: true } match)
        {
            found.TrySetResult(match.Groups[1].Value);
        }
    }
}
