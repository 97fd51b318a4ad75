using System.Globalization;

namespace Washwear.Dashboard.Shell;

/// <summary>Numbers as people type them: as pages show them to that reader, and as keyboards of phones allow, many of which have a comma or a point only.</summary>
public static class TypedNumber
{
    /// <summary>Reads a number.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="reader">Who typed it.</param>
    /// <returns>Null where it is none. Of two kinds of marks the last is the decimal one; one mark that stands once is it too, unless it is the reader's
    /// mark of thousands with three digits behind it.</returns>
    public static double? Read(string typed, ReaderPreferences reader)
    {
        ArgumentNullException.ThrowIfNull(typed);
        ArgumentNullException.ThrowIfNull(reader);
        string text = string.Concat(typed.Trim().Where(letter => letter is not (' ' or '\u00a0' or '\u202f' or '’' or '\''))).Replace('−', '-');
        int point = text.LastIndexOf('.');
        int comma = text.LastIndexOf(',');
        char? mark = (point, comma) switch
        {
            ( < 0, < 0) => null,
            ( >= 0, >= 0) => point > comma ? '.' : ',',
            _ => IsOfThousands(text, point >= 0 ? '.' : ',', reader) ? null : point >= 0 ? '.' : ',',
        };
        string plain = string.Concat(text.Where(letter => letter is not ('.' or ',') || letter == mark)).Replace(',', '.');
        return double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) ? number : null;
    }

    private static bool IsOfThousands(string text, char mark, ReaderPreferences reader)
    {
        string[] groups = text.TrimStart('-', '+').Split(mark);
        bool areGroups = groups[0].Length is > 0 and <= 3 && groups[0] != "0" && groups.Skip(1).All(group => group.Length == 3 && group.All(char.IsAsciiDigit));
        return areGroups && (groups.Length > 2 || reader.Culture.GroupMark[0] == mark);
    }
}
