using System.Buffers;
using System.Collections.Frozen;
using System.Net;
using System.Text;

namespace Washwear.Dashboard.Shell;

/// <summary>Binds each number on a page to its unit, so that no line ends between them: the space becomes one that does not break. It is done once, to the
/// finished page, because the sentences of a page are those of the API too, which are plain text and stay so, as do attributes, what a field or an example
/// holds, and drawings.</summary>
public static class UnitBinding
{
    // Longer than any word that is a unit, with its letters written as character references.
    private const int LongestWord = 64;

    private static readonly SearchValues<byte> SpaceOrTag = SearchValues.Create(" <"u8);
    private static readonly SearchValues<byte> QuoteOrEnd = SearchValues.Create("\"'>"u8);
    private static readonly SearchValues<byte> WordEnd = SearchValues.Create(" <\r\n"u8);

    // What stands in these is taken literally, sent back or copied by somebody, or has no lines to break.
    private static readonly string[] LeftAlone = ["script", "style", "title", "svg", "pre", "code", "textarea", "select", "datalist"];

    // In pages of one language stand sentences of another that were kept.
    private static readonly FrozenSet<string> Words = ReaderPreferences.Languages
        .SelectMany(language => ShellTexts.File.In(language.Code).UnitsAfterNumbers.Split(' ')).ToFrozenSet(StringComparer.Ordinal);

    private static ReadOnlySpan<byte> Space => "\u00A0"u8;

    /// <summary>Writes a page with its numbers bound.</summary>
    /// <param name="page">The page: HTML in UTF-8, attributes in quotes.</param>
    /// <param name="to">Where it is written.</param>
    public static void Write(ReadOnlySpan<byte> page, IBufferWriter<byte> to)
    {
        ArgumentNullException.ThrowIfNull(to);
        int written = 0;
        int at = 0;
        while (at < page.Length && page[at..].IndexOfAny(SpaceOrTag) is >= 0 and int next)
        {
            at += next;
            if (page[at] == (byte)'<')
            {
                at = AfterTag(page, at);
                continue;
            }

            if (at > 0 && BindsTo(page[..at], WordFrom(page[(at + 1)..])))
            {
                to.Write(page[written..at]);
                to.Write(Space);
                written = at + 1;
            }

            at++;
        }

        to.Write(page[written..]);
    }

    private static bool BindsTo(ReadOnlySpan<byte> before, ReadOnlySpan<byte> word) =>
        char.IsAsciiDigit((char)before[^1]) ? IsUnit(word) : before.EndsWith(" US"u8) && word.StartsWith("gal"u8);

    private static ReadOnlySpan<byte> WordFrom(ReadOnlySpan<byte> rest)
    {
        ReadOnlySpan<byte> near = rest[..Math.Min(rest.Length, LongestWord)];
        int end = near.IndexOfAny(WordEnd);
        return end < 0 ? near : near[..end];
    }

    private static bool IsUnit(ReadOnlySpan<byte> word)
    {
        if (word.IsEmpty || char.IsAsciiDigit((char)word[0]))
        {
            return false;
        }

        string unit = WebUtility.HtmlDecode(Encoding.UTF8.GetString(word)).TrimEnd('.', ',', ';', ':', ')', '!', '?');
        return unit.Length > 0 && (unit[0] is '%' or '°' || Words.Contains(unit) || IsRate(unit) || IsCurrency(unit));
    }

    // Such as L/min.
    private static bool IsRate(string unit) => unit.Length <= 8 && unit.IndexOf('/', StringComparison.Ordinal) > 0;

    // ISO 4217.
    private static bool IsCurrency(string unit) => unit.Length == 3 && unit.All(char.IsAsciiLetterUpper);

    private static int AfterTag(ReadOnlySpan<byte> page, int at)
    {
        int end = page[at..].StartsWith("<!--"u8) ? After(page, at, "-->"u8) : EndOfTag(page, at);
        foreach (string name in LeftAlone)
        {
            if (IsTag(page[(at + 1)..], name))
            {
                return After(page, end, Encoding.ASCII.GetBytes("</" + name));
            }
        }

        return end;
    }

    private static bool IsTag(ReadOnlySpan<byte> rest, string name) =>
        rest.Length > name.Length && Ascii.EqualsIgnoreCase(rest[..name.Length], name) && !char.IsAsciiLetterOrDigit((char)rest[name.Length]);

    // An attribute may hold the sign that ends a tag.
    private static int EndOfTag(ReadOnlySpan<byte> page, int at)
    {
        while (at < page.Length && page[at..].IndexOfAny(QuoteOrEnd) is >= 0 and int next)
        {
            at += next;
            if (page[at] == (byte)'>')
            {
                return at + 1;
            }

            int closing = page[(at + 1)..].IndexOf(page[at]);
            at = closing < 0 ? page.Length : at + closing + 2;
        }

        return page.Length;
    }

    private static int After(ReadOnlySpan<byte> page, int at, ReadOnlySpan<byte> end) => page[at..].IndexOf(end) is >= 0 and int next ? at + next + end.Length : page.Length;
}
