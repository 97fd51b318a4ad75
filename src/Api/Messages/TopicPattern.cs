using System.Text.RegularExpressions;

namespace Washwear.Api.Messages;

/// <summary>A topic filter some of whose levels have names, such as kitchens/{site}/{unit}/wash.</summary>
internal sealed partial class TopicPattern
{
    private readonly string[] _levels;

    private TopicPattern(string[] levels)
    {
        _levels = levels;
        Names = [.. levels.Select(NameOf).OfType<string>()];
        Filter = string.Join('/', levels.Select(level => NameOf(level) is null ? level : "+"));
    }

    /// <summary>The topic filter as a broker knows it.</summary>
    public string Filter { get; }

    /// <summary>Names of levels.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Reads a pattern.</summary>
    /// <param name="text">The pattern.</param>
    /// <param name="problem">What is wrong with it.</param>
    public static TopicPattern? Read(string text, out string? problem)
    {
        string[] levels = text.Split('/');
        var pattern = new TopicPattern(levels);
        problem = text.Length == 0 ? "It is empty."
            : text.StartsWith('$') ? "Topics that begin with $ are the broker's own."
            : Array.FindIndex(levels, level => level == "#") is >= 0 and int hash && hash < levels.Length - 1 ? "# stands for all levels from there on: nothing can follow it."
            : Array.Find(levels, level => NameOf(level) is null && level is not ("+" or "#") && Special().IsMatch(level)) is { } wrong
                ? $"'{wrong}' is no level: a wildcard or a name in braces stands alone between two slashes, and a name has small letters, digits and _."
            : pattern.Names.Count != pattern.Names.Distinct(StringComparer.Ordinal).Count() ? "Two levels have the same name."
            : null;
        return problem is null ? pattern : null;
    }

    /// <summary>The named levels of a topic; null: the topic is not meant.</summary>
    /// <param name="topic">The topic.</param>
    public IReadOnlyDictionary<string, string>? Match(string topic)
    {
        string[] levels = topic.Split('/');
        bool open = _levels[^1] == "#";
        if (open ? levels.Length < _levels.Length - 1 : levels.Length != _levels.Length)
        {
            return null;
        }

        var named = new Dictionary<string, string>(StringComparer.Ordinal);
        for (int index = 0; index < _levels.Length - (open ? 1 : 0); index++)
        {
            if (NameOf(_levels[index]) is { } name)
            {
                named[name] = levels[index];
            }
            else if (_levels[index] != "+" && _levels[index] != levels[index])
            {
                return null;
            }
        }

        return named;
    }

    private static string? NameOf(string level) => Named().Match(level) is { Success: true } match ? match.Groups[1].Value : null;

    [GeneratedRegex(@"^\{([a-z][a-z0-9_]*)\}$")]
    private static partial Regex Named();

    [GeneratedRegex(@"[+#{}\0]")]
    private static partial Regex Special();
}
