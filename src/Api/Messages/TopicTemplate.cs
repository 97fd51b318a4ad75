using System.Text.RegularExpressions;

namespace Washwear.Api.Messages;

/// <summary>A text in which {name} stands for a level of the topic.</summary>
internal static partial class TopicTemplate
{
    /// <summary>The names in it.</summary>
    /// <param name="template">The text.</param>
    public static IEnumerable<string> Names(string template) => Hole().Matches(template).Select(hole => hole.Groups[1].Value);

    /// <summary>The text with the levels filled in.</summary>
    /// <param name="template">The text.</param>
    /// <param name="levels">The levels by name.</param>
    public static string Fill(string template, IReadOnlyDictionary<string, string> levels) =>
        Hole().Replace(template, hole => levels[hole.Groups[1].Value]);

    [GeneratedRegex(@"\{([^{}]*)\}")]
    private static partial Regex Hole();
}
