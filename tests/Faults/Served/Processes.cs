using System.Diagnostics;

namespace Washwear.Faults.Served;

/// <summary>What a command of the program did.</summary>
/// <param name="Code">Exit code.</param>
/// <param name="Out">What it told.</param>
/// <param name="Complaint">What it complained about.</param>
internal sealed record CommandEnd(int Code, string Out, string Complaint)
{
    /// <summary>Both, for a message.</summary>
    public string All => (Out + Complaint).Trim();
}

/// <summary>Starts the program under test.</summary>
internal static class Processes
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(10);

    /// <summary>Starts it.</summary>
    /// <param name="options">Where it is.</param>
    /// <param name="wrapper">A command that starts it; empty: none.</param>
    /// <param name="arguments">Its arguments.</param>
    public static Process Start(FaultOptions options, IReadOnlyList<string> wrapper, IEnumerable<string> arguments)
    {
        string[] line = [.. wrapper, .. CommandLine(options.Program), .. arguments];
        return Process.Start(new ProcessStartInfo(line[0], line[1..])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = options.Folder,
            Environment = { ["WASHWEAR_ADMIN_KEY"] = ServedProgram.AdminKey },
        })!;
    }

    /// <summary>Runs a command of the program to its end.</summary>
    /// <param name="options">Where it is.</param>
    /// <param name="arguments">The command and its options.</param>
    public static Task<CommandEnd> RunAsync(FaultOptions options, params string[] arguments) => RunAsync(options, [], arguments);

    /// <summary>Runs a command of the program to its end, through another command.</summary>
    /// <param name="options">Where it is.</param>
    /// <param name="wrapper">A command that starts it; empty: none.</param>
    /// <param name="arguments">The command and its options.</param>
    public static async Task<CommandEnd> RunAsync(FaultOptions options, IReadOnlyList<string> wrapper, params string[] arguments)
    {
        using Process process = Start(options, wrapper, arguments);
        using var patience = new CancellationTokenSource(Patience);
        try
        {
            Task<string> told = process.StandardOutput.ReadToEndAsync(patience.Token);
            Task<string> complained = process.StandardError.ReadToEndAsync(patience.Token);
            await process.WaitForExitAsync(patience.Token);
            return new CommandEnd(process.ExitCode, await told, await complained);
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill();
            }
        }
    }

    private static string[] CommandLine(string? program)
    {
        string dll = program ?? Path.Combine(AppContext.BaseDirectory, "Washwear.Api.dll");
        return dll.EndsWith(".dll", StringComparison.Ordinal) ? ["dotnet", dll] : [Path.GetFullPath(dll)];
    }
}
