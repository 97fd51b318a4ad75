using System.Text;
using System.Text.RegularExpressions;

namespace Washwear.Browser.Guides;

/// <summary>A guide in docs/guides: what it says, and the steps that its marks name. A mark is a comment on a line of its own:
/// <c>step: follow "Visit sheet" at "OVEN-0024"</c>.</summary>
internal sealed partial class Guide
{
    private static readonly string[] Verbs = ["start", "follow", "press", "unfold", "choose", "pick", "fill", "see"];

    private Guide(string text, IReadOnlyList<GuideStep> steps)
    {
        Text = text;
        Steps = steps;
    }

    /// <summary>The guide as it is written.</summary>
    public string Text { get; }

    /// <summary>What it has its reader do, in order.</summary>
    public IReadOnlyList<GuideStep> Steps { get; }

    /// <summary>Folder of the guides.</summary>
    public static string Folder { get; } = Path.Combine(Root(AppContext.BaseDirectory), "docs", "guides");

    /// <summary>Reads a guide.</summary>
    /// <param name="name">Its file, without the ending.</param>
    public static Guide Read(string name) => Of(File.ReadAllText(Path.Combine(Folder, name + ".md")));

    /// <summary>Takes a guide's text apart.</summary>
    /// <param name="text">The text.</param>
    /// <exception cref="FormatException">A mark cannot be read.</exception>
    public static Guide Of(string text)
    {
        string[] lines = text.ReplaceLineEndings("\n").Split('\n');
        var steps = new List<GuideStep>();
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].Contains("<!--", StringComparison.Ordinal))
            {
                Match mark = Mark().Match(lines[i]);
                if (!mark.Success || !Verbs.Contains(mark.Groups["verb"].Value))
                {
                    throw new FormatException($"Line {i + 1} is no step: {lines[i]}");
                }

                steps.Add(new GuideStep(mark.Groups["verb"].Value, mark.Groups["words"].Value, Optional(mark.Groups["with"]), Optional(mark.Groups["at"]), i + 1, Told(lines, i)));
            }
        }

        return new Guide(text, steps);
    }

    /// <summary>Text as it is compared: without the signs of Markdown, spaces as one, in small letters.</summary>
    /// <param name="text">The text.</param>
    public static string Plain(string text) => Spaces().Replace(Signs().Replace(text, string.Empty), " ").Trim().ToLowerInvariant();

    private static string? Optional(Group group) => group.Success ? group.Value : null;

    // The numbered step that a mark belongs to: from its number, or from a heading, to the next.
    private static string Told(string[] lines, int at)
    {
        int first = at;
        while (first > 0 && !Begins().IsMatch(lines[first]))
        {
            first--;
        }

        var told = new StringBuilder();
        for (int i = first; i < lines.Length && (i == first || !Begins().IsMatch(lines[i])); i++)
        {
            if (!lines[i].Contains("<!--", StringComparison.Ordinal))
            {
                told.AppendLine(lines[i]);
            }
        }

        return Plain(told.ToString());
    }

    private static string Root(string from) => File.Exists(Path.Combine(from, "Washwear.slnx"))
        ? from
        : Root(Path.GetDirectoryName(from.TrimEnd(Path.DirectorySeparatorChar)) ?? throw new InvalidOperationException("No Washwear.slnx above the tests."));

    [GeneratedRegex("""^\s*<!-- step: (?<verb>[a-z]+)(?: "(?<words>[^"]+)")?(?: with "(?<with>[^"]+)")?(?: at "(?<at>[^"]+)")? -->\s*$""")]
    private static partial Regex Mark();

    [GeneratedRegex(@"^(\d+\. |#)")]
    private static partial Regex Begins();

    [GeneratedRegex(@"[*`]|\]\([^)]*\)|\[")]
    private static partial Regex Signs();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
