using System.Diagnostics;

namespace Washwear.Faults.Served;

/// <summary>Runs commands of the machine.</summary>
internal static class Shell
{
    /// <summary>Runs a command to its end.</summary>
    /// <param name="command">The command.</param>
    /// <param name="arguments">Its arguments.</param>
    /// <returns>Whether it is there and ended with 0.</returns>
    public static bool Try(string command, params string[] arguments)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(command, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
