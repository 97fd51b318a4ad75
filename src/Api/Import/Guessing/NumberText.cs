using System.Globalization;
using System.Text.RegularExpressions;

namespace Washwear.Api.Import.Guessing;

/// <summary>Reads numbers as people write them: 1,234.5 and 1.234,5, with spaces or apostrophes between thousands.</summary>
internal static partial class NumberText
{
    /// <summary>Reads a number.</summary>
    /// <param name="text">The text.</param>
    /// <param name="mark">What stands before the fraction; null: a point, and a comma where only that can be meant.</param>
    /// <param name="number">The number.</param>
    public static bool TryRead(string text, DecimalMark? mark, out double number)
    {
        string plain = Gaps().Replace(text.Trim(), string.Empty);
        mark ??= MarkOf(plain, out _);
        plain = mark == DecimalMark.Comma ? WithoutThousands(plain, '.').Replace(',', '.') : WithoutThousands(plain, ',');
        return double.TryParse(plain, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number);
    }

    /// <summary>What a number proves to stand before its fraction; null: nothing.</summary>
    /// <param name="text">The number.</param>
    /// <param name="open">Whether it could be either: one mark with three digits behind it.</param>
    public static DecimalMark? MarkOf(string text, out bool open)
    {
        int comma = text.LastIndexOf(',');
        int point = text.LastIndexOf('.');
        open = false;
        if (comma < 0 && point < 0)
        {
            return null;
        }

        int last = Math.Max(comma, point);
        DecimalMark seen = comma > point ? DecimalMark.Comma : DecimalMark.Point;
        DecimalMark other = comma > point ? DecimalMark.Point : DecimalMark.Comma;
        if (comma >= 0 && point >= 0)
        {
            return seen;
        }

        if (text.Count(letter => letter is ',' or '.') > 1)
        {
            return other;
        }

        open = text.Length - last - 1 == 3 && last is > 0 and <= 4 && text[0] != '0';
        return open ? null : seen;
    }

    private static string WithoutThousands(string text, char mark) =>
        Thousands().IsMatch(text) ? text.Replace(mark.ToString(), string.Empty, StringComparison.Ordinal) : text;

    [GeneratedRegex(@"(?<=\d)[\s'\u2019\u202F](?=\d{3}(?!\d))")]
    private static partial Regex Gaps();

    [GeneratedRegex(@"^[+-]?\d{1,3}([.,]\d{3})+(?!\d)")]
    private static partial Regex Thousands();
}
