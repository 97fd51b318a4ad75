using System.Diagnostics;
using System.Text.RegularExpressions;
using Washwear.Api.Tests.House;

namespace Washwear.Api.Tests.Guides;

/// <summary>One request of the guide of the API, and the answer that the guide shows for it.</summary>
/// <param name="Command">The lines for a shell.</param>
/// <param name="Status">Status that the guide names.</param>
/// <param name="Kept">Variable that later requests use, and the field it is kept from.</param>
/// <param name="Language">What the answer is shown as: json or text.</param>
/// <param name="Shown">The answer as shown.</param>
internal sealed partial record CurlBlock(string Command, int Status, IReadOnlyList<(string Name, string Field)> Kept, string Language, string Shown)
{
    /// <summary>Reads the requests of the guide.</summary>
    public static IReadOnlyList<CurlBlock> All()
    {
        string guide = File.ReadAllText(Path.Combine(Repository.Root, "docs", "guides", "api.md")).ReplaceLineEndings("\n");
        CurlBlock[] found =
        [
            .. Block().Matches(guide).Select(block => new CurlBlock(
                block.Groups["command"].Value,
                int.Parse(block.Groups["status"].Value, System.Globalization.CultureInfo.InvariantCulture),
                [.. Keep().Matches(block.Groups["keep"].Value).Select(keep => (keep.Groups[1].Value, keep.Groups[2].Value))],
                block.Groups["language"].Value,
                block.Groups["shown"].Value)),
        ];
        int commands = Shell().Count(guide);
        return found.Length == commands ? found : throw new FormatException($"{commands} requests, but only {found.Length} with an answer after them.");
    }

    /// <summary>Runs it by the real curl, as a reader would.</summary>
    /// <param name="variables">What the reader has exported.</param>
    /// <param name="settings">Folder of curl's own settings, which have it write the status behind the answer.</param>
    /// <returns>The status and the answer.</returns>
    public async Task<(int Status, string Answer)> RunAsync(IReadOnlyDictionary<string, string> variables, string settings)
    {
        await File.WriteAllTextAsync(Path.Combine(settings, ".curlrc"), "silent\nshow-error\nnoproxy = \"*\"\nwrite-out = \"\\n%{http_code}\"\n");
        var start = new ProcessStartInfo("bash", ["-c", Command]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["CURL_HOME"] = settings;
        foreach ((string name, string value) in variables)
        {
            start.Environment[name] = value;
        }

        using Process shell = Process.Start(start)!;
        Task<string> error = shell.StandardError.ReadToEndAsync();
        string said = await shell.StandardOutput.ReadToEndAsync();
        await shell.WaitForExitAsync();
        int cut = said.LastIndexOf('\n');
        return shell.ExitCode == 0 && cut >= 0 ? (int.Parse(said[(cut + 1)..], System.Globalization.CultureInfo.InvariantCulture), said[..cut])
            : throw new InvalidOperationException($"{Command}\nended with {shell.ExitCode}: {await error}{said}");
    }

    [GeneratedRegex("""
        ```sh\n(?<command>(?:(?!```).|\n)*?)```\n\n<!-- answer: (?<status>\d{3}) -->\n(?<keep>(?:<!-- keep: .*\n)*)\n```(?<language>json|text)\n(?<shown>(?:(?!```).|\n)*?)```
        """)]
    private static partial Regex Block();

    [GeneratedRegex("<!-- keep: ([A-Z]+) from \"([a-z_]+)\" -->")]
    private static partial Regex Keep();

    [GeneratedRegex("^```sh$", RegexOptions.Multiline)]
    private static partial Regex Shell();
}
