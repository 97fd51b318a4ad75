using System.Globalization;
using System.Text;

namespace Washwear.Api.Import.Guessing;

/// <summary>Makes headings and words comparable: case, accents, separators and what stands in brackets do not count.</summary>
internal static class Headings
{
    /// <summary>Small letters without accents; ß becomes ss, the ligatures œ and æ two letters.</summary>
    /// <param name="text">The text.</param>
    public static string Plain(string text)
    {
        var plain = new StringBuilder(text.Length);
        foreach (char letter in text.Trim().Normalize(NormalizationForm.FormKD))
        {
            if (CharUnicodeInfo.GetUnicodeCategory(letter) == UnicodeCategory.NonSpacingMark)
            {
                continue;
            }

            plain.Append(char.ToLowerInvariant(letter) switch
            {
                'ß' => "ss",
                'œ' => "oe",
                'æ' => "ae",
                '\u2212' or '\u2013' => "-",
                var other => other.ToString(),
            });
        }

        return plain.ToString();
    }

    /// <summary>The words of a heading: startTime, START_TIME and 'Start time (local)' are all 'start time'.</summary>
    /// <param name="heading">The heading.</param>
    public static string Words(string heading)
    {
        var words = new StringBuilder(heading.Length);
        int brackets = 0;
        char before = ' ';
        foreach (char letter in heading.Normalize(NormalizationForm.FormC))
        {
            brackets += letter is '(' or '[' ? 1 : letter is ')' or ']' && brackets > 0 ? -1 : 0;
            if (brackets > 0 || letter is ')' or ']')
            {
                continue;
            }

            bool newWord = char.IsUpper(letter) && char.IsLower(before);
            words.Append(newWord ? " " : string.Empty).Append(char.IsLetterOrDigit(letter) || letter == '#' ? letter : ' ');
            before = letter;
        }

        return string.Join(' ', Plain(words.ToString().Replace("#", " nr ", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    /// <summary>Letters and digits alone: OVEN 12, oven-12 and Oven_12 are all oven12.</summary>
    /// <param name="text">The text.</param>
    public static string Compact(string text) => string.Concat(Plain(text).Where(char.IsLetterOrDigit));

    /// <summary>How many letters have to change to make one word of another, up to a most.</summary>
    /// <param name="one">A word.</param>
    /// <param name="other">Another.</param>
    public static bool DifferByOne(string one, string other)
    {
        if (Math.Abs(one.Length - other.Length) > 1 || Math.Min(one.Length, other.Length) < 5)
        {
            return false;
        }

        int start = 0;
        while (start < one.Length && start < other.Length && one[start] == other[start])
        {
            start++;
        }

        int end = 0;
        while (end < one.Length - start && end < other.Length - start && one[^(end + 1)] == other[^(end + 1)])
        {
            end++;
        }

        return Math.Max(one.Length, other.Length) - start - end <= 1;
    }
}
