using System.CommandLine;
using System.CommandLine.Invocation;
using System.Data.Common;
using Washwear.Api.Storage;

namespace Washwear.Api.Commands;

/// <summary>Reads the command line: one command, and the settings as options of every command.</summary>
public static class CommandLine
{
    private const int Failed = 1;
    private const int AskedWrongly = 2;

    // A secret on a command line could be read by every user of the machine.
    private static readonly string[] Secret = ["admin_key", "sql_server", "mqtt_password", "oidc_client_secret"];

    private static readonly IReadOnlyList<(Setting Setting, Option<string?> Option)> SettingOptions =
    [
        .. Settings.All.Where(setting => !Secret.Contains(setting.Name)).Select(setting => (setting, new Option<string?>(setting.OptionName)
        {
            Description = setting.Default.Length > 0 ? $"{setting.Sentence} Default: {setting.Default}." : setting.Sentence,
            HelpName = "value",
            Recursive = true,
        })),
    ];

    /// <summary>Runs a command.</summary>
    /// <param name="args">The command line.</param>
    /// <param name="root">The commands; without one, serve runs.</param>
    /// <returns>0: done; 1: it failed; 2: it was asked for wrongly.</returns>
    public static async Task<int> RunAsync(string[] args, RootCommand root)
    {
        foreach ((Setting _, Option<string?> option) in SettingOptions)
        {
            root.Add(option);
        }

        root.SetAction(Serve.RunAsync);
        ParseResult asked = root.Parse(args);
        if (asked.Action is ParseErrorAction)
        {
            return Complain(asked.Errors.Select(error => error.Message).Append("'--help' shows what there is."), AskedWrongly);
        }

        try
        {
            // The web server ends itself on a signal and finishes what it is doing first.
            return await asked.InvokeAsync(new InvocationConfiguration { EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null });
        }
        catch (SettingException error)
        {
            return Complain([error.Message], AskedWrongly);
        }
        catch (Exception error) when (error is CommandException or IOException or UnauthorizedAccessException
            or InvalidOperationException or InvalidDataException or DbException)
        {
            return Complain(error.InnerException is { } inner ? [InWords(error), InWords(inner)] : [InWords(error)], Failed);
        }
    }

    /// <summary>The settings in force for a command.</summary>
    /// <param name="asked">What was asked for.</param>
    /// <exception cref="SettingException">A value is not allowed.</exception>
    public static Settings SettingsOf(ParseResult asked) => Settings.Load(SettingOptions
        .Select(pair => (pair.Setting.Name, Value: asked.GetValue(pair.Option)))
        .Where(pair => pair.Value is not null)
        .ToDictionary(pair => pair.Name, pair => pair.Value!));

    private static string InWords(Exception error) => error is DbException fault ? DatabaseFault.InWords(fault) : error.Message;

    private static int Complain(IEnumerable<string> lines, int code)
    {
        foreach (string line in lines)
        {
            Console.Error.WriteLine(line);
        }

        return code;
    }
}

/// <summary>A command could not do what it was asked; the message is for the person who asked.</summary>
/// <param name="message">What went wrong and what to do.</param>
public sealed class CommandException(string message) : Exception(message);
