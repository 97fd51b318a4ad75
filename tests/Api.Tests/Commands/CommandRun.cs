using System.Diagnostics;

namespace Washwear.Api.Tests.Commands;

/// <summary>What a command did: the program in a process of its own, as a person or a script starts it.</summary>
/// <param name="Code">Exit code.</param>
/// <param name="Out">What it told.</param>
/// <param name="Complaint">What it complained about.</param>
internal sealed record CommandRun(int Code, string Out, string Complaint)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    /// <summary>Runs a command to its end.</summary>
    /// <param name="folder">Working directory.</param>
    /// <param name="arguments">The command and its options.</param>
    public static async Task<CommandRun> OfAsync(string folder, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        })!;
        using var patience = new CancellationTokenSource(Patience);
        try
        {
            Task<string> told = process.StandardOutput.ReadToEndAsync(patience.Token);
            Task<string> complained = process.StandardError.ReadToEndAsync(patience.Token);
            await process.WaitForExitAsync(patience.Token);
            return new CommandRun(process.ExitCode, await told, await complained);
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill();
            }
        }
    }
}
