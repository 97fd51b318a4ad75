using System.Globalization;
using System.Text;

namespace Washwear.Api.Search;

/// <summary>How texts are compared when people search: without case, accents, and for codes without spaces and dashes.</summary>
internal static class Spelling
{
    /// <summary>A text in the form in which it is searched: lower case, without accents, its white space single.</summary>
    /// <param name="text">The text.</param>
    public static string Fold(string text)
    {
        var folded = new StringBuilder(text.Length);
        foreach (char letter in text.Normalize(NormalizationForm.FormKD))
        {
            UnicodeCategory category = CharUnicodeInfo.GetUnicodeCategory(letter);
            if (category is UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark or UnicodeCategory.Format)
            {
                continue;
            }

            if (char.IsWhiteSpace(letter))
            {
                if (folded.Length > 0 && folded[^1] != ' ')
                {
                    folded.Append(' ');
                }
            }
            else if (Plain(char.ToLowerInvariant(letter)) is { } plain)
            {
                folded.Append(plain);
            }
            else
            {
                folded.Append(char.ToLowerInvariant(letter));
            }
        }

        return folded.ToString().TrimEnd(' ');
    }

    /// <summary>The letters and digits of a folded text, so that ov1004 finds OV-1004.</summary>
    /// <param name="folded">The folded text.</param>
    public static string Compact(string folded) => folded.All(char.IsLetterOrDigit) ? folded : string.Concat(folded.Where(char.IsLetterOrDigit));

    /// <summary>
    /// Edits that turn one text into the other: a letter more, less, changed, or two neighbours swapped (optimal string alignment).
    /// </summary>
    /// <param name="one">A text.</param>
    /// <param name="other">The other.</param>
    /// <param name="most">Edits above which it does not matter how many.</param>
    /// <returns>The edits, or most + 1 where there are more.</returns>
    public static int Edits(string one, string other, int most)
    {
        if (Math.Abs(one.Length - other.Length) > most)
        {
            return most + 1;
        }

        Span<int> before = stackalloc int[other.Length + 1];
        Span<int> last = stackalloc int[other.Length + 1];
        Span<int> row = stackalloc int[other.Length + 1];
        for (int j = 0; j <= other.Length; j++)
        {
            last[j] = j;
        }

        for (int i = 1; i <= one.Length; i++)
        {
            row[0] = i;
            int least = i;
            for (int j = 1; j <= other.Length; j++)
            {
                bool swapped = i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1];
                int edits = Math.Min(Math.Min(last[j], row[j - 1]) + 1, last[j - 1] + (one[i - 1] == other[j - 1] ? 0 : 1));
                row[j] = swapped ? Math.Min(edits, before[j - 2] + 1) : edits;
                least = Math.Min(least, row[j]);
            }

            if (least > most)
            {
                return most + 1;
            }

            Span<int> free = before;
            before = last;
            last = row;
            row = free;
        }

        return Math.Min(last[other.Length], most + 1);
    }

    // Letters that Unicode does not take apart into a plain letter and a mark.
    private static string? Plain(char letter) => letter switch
    {
        'ß' => "ss",
        'æ' => "ae",
        'œ' => "oe",
        'ø' => "o",
        'đ' or 'ð' => "d",
        'ł' => "l",
        'ħ' => "h",
        'ı' => "i",
        'þ' => "th",
        _ => null,
    };
}
