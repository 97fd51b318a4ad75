using System.CommandLine;
using System.Globalization;
using System.Text;

namespace Washwear.Api.Commands;

/// <summary>settings: writes the page of all settings as the program itself knows them.</summary>
internal static class WriteSettings
{
    private const string Head = """
        # Settings

        Written by the program (`dotnet run --project src/Api -- settings "$PWD/docs/settings.md"`) from the one list in `src/Api/Settings.cs`; a test
        fails when the two differ. Do not edit it here.

        A setting is given in the environment, on the command line as `--name-with-dashes value` (not `admin_key`, `sql_server`, `mqtt_password` and
        `oidc_client_secret`, which others could read there), or in `appsettings.json` beside the program under `"washwear"`. The command line wins over the environment, and that
        over the file. A value that is not allowed is refused at the start, with what is allowed, and so is an unknown name in the file or on the command line.

        | setting | in the environment | default | unit | may be | what it is for |
        |---|---|---|---|---|---|

        """;

    private static readonly Argument<FileInfo> Target = new("file") { Description = "Where to, such as docs/settings.md." };

    public static Command Create()
    {
        var command = new Command("settings", "Write the page of all settings.") { Target };
        command.SetAction((asked, cancellationToken) =>
            File.WriteAllTextAsync(asked.GetValue(Target)!.FullName, Page(), cancellationToken));
        return command;
    }

    /// <summary>The page, Markdown.</summary>
    public static string Page()
    {
        var page = new StringBuilder(Head);
        foreach (Setting setting in Settings.All)
        {
            string standard = setting.Default.Length == 0 ? "" : $"`{setting.Default}`";
            page.Append(
                CultureInfo.InvariantCulture,
                $"| `{setting.Name}` | `{setting.EnvironmentName}` | {standard} | {setting.Unit} | {setting.Allowed} | {setting.Sentence} |\n");
        }

        return page.ToString();
    }
}
