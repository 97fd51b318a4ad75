using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Washwear.Api.Erasure;

/// <summary>Finds a person's names in texts, as whole words and without case, also where JSON escapes their letters, and puts a pseudonym in
/// their place.</summary>
internal sealed class NameText
{
    private const RegexOptions Options = RegexOptions.IgnoreCase | RegexOptions.CultureInvariant;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(5);
    private readonly Regex _names;
    private readonly Regex _whole;
    private readonly string _pseudonym;

    /// <summary>Prepares the search.</summary>
    /// <param name="names">Names, at least one: found as words of a text.</param>
    /// <param name="logins">Names at sign-in, which may be any word: found where they are the whole text, or stand in single quotes.</param>
    /// <param name="pseudonym">What stands in their place.</param>
    public NameText(IReadOnlyList<string> names, IReadOnlyList<string> logins, string pseudonym)
    {
        string words = $@"(?<![\p{{L}}\p{{N}}])(?:{AnyOf(names)})(?![\p{{L}}\p{{N}}])";
        string quoted = logins.Count == 0 ? string.Empty : $"|(?<=')(?:{AnyOf(logins)})(?=')";
        _names = new Regex(words + quoted, Options, Longest);
        _whole = new Regex($@"\A\s*(?:{AnyOf([.. names, .. logins])})\s*\z", Options, Longest);
        _pseudonym = pseudonym;
    }

    /// <summary>Whether a text holds one of the names.</summary>
    /// <param name="text">The text.</param>
    public bool IsIn(string text) => _names.IsMatch(text) || IsWhole(text);

    /// <summary>Whether a text is one of the names and nothing else.</summary>
    /// <param name="text">The text.</param>
    public bool IsWhole(string text) => _whole.IsMatch(text);

    /// <summary>The text with the pseudonym in place of each name.</summary>
    /// <param name="text">The text.</param>
    public string Replace(string text) => IsWhole(text) ? _pseudonym : _names.Replace(text, _ => _pseudonym);

    // The longest first, so that a name within another one leaves no rest.
    private static string AnyOf(IReadOnlyList<string> names) => string.Join('|', names.OrderByDescending(name => name.Length).Select(Pattern));

    private static string Pattern(string name)
    {
        var pattern = new StringBuilder();
        bool inSpace = false;
        foreach (char letter in name.Trim())
        {
            bool isSpace = char.IsWhiteSpace(letter);
            if (!isSpace || !inSpace)
            {
                pattern.Append(isSpace ? @"(?:\s|\\u00a0)+" : char.IsAsciiLetterOrDigit(letter) ? letter.ToString() : Other(letter));
            }

            inSpace = isSpace;
        }

        return pattern.ToString();
    }

    private static string Other(char letter) =>
        $@"(?:{Regex.Escape(letter.ToString())}|\\u{((int)char.ToLowerInvariant(letter)).ToString("x4", CultureInfo.InvariantCulture)}"
        + $@"|\\u{((int)char.ToUpperInvariant(letter)).ToString("x4", CultureInfo.InvariantCulture)})";
}
