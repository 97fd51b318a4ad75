using System.Globalization;
using System.Text.RegularExpressions;
using NodaTime;

namespace Washwear.Api.Import.Guessing;

/// <summary>Which of two small numbers of a date comes first.</summary>
public enum DateOrder
{
    /// <summary>The day, as in 31/12/2026.</summary>
    DayFirst,

    /// <summary>The month, as in 12/31/2026.</summary>
    MonthFirst,
}

/// <summary>A date, a time of day or both, as written; an offset where one was written.</summary>
/// <param name="Date">The date; null: a time of day alone.</param>
/// <param name="Time">The time of day; null: a date alone.</param>
/// <param name="Offset">The offset from UTC, if it was written.</param>
internal readonly record struct WallTime(LocalDate? Date, LocalTime? Time, Offset? Offset);

/// <summary>A date whose two small numbers could be either way round.</summary>
/// <param name="First">The first number.</param>
/// <param name="Second">The second.</param>
/// <param name="Mark">What stands between them: . / - or a space.</param>
internal readonly record struct TwoNumbers(int First, int Second, char Mark);

/// <summary>Reads dates and times in the forms that people and spreadsheets write: 2026-03-02, 02.03.26 7:05, 3/2/2026 2:05 PM, 2 Mar 2026,
/// 2. März 2026, 14h30, 20260302, with a weekday before and an offset behind. Month names are English, German and French.</summary>
internal static partial class DateText
{
    private const int Longest = 64;

    private static readonly string[][] Months =
    [
        ["jan", "january", "januar", "janner", "janvier", "janv"], ["feb", "february", "februar", "fevrier", "fevr", "fev"],
        ["mar", "march", "marz", "mrz", "maerz", "mars"], ["apr", "april", "avril", "avr"], ["may", "mai"], ["jun", "june", "juni", "juin"],
        ["jul", "july", "juli", "juillet", "juil"], ["aug", "august", "aout"], ["sep", "sept", "september", "septembre"],
        ["oct", "okt", "october", "oktober", "octobre"], ["nov", "november", "novembre"], ["dec", "dez", "december", "dezember", "decembre"],
    ];

    /// <summary>Reads a date, a time of day, or both.</summary>
    /// <param name="text">The text.</param>
    /// <param name="order">Which number comes first where that is open; null: not known.</param>
    /// <param name="wall">What was read.</param>
    /// <returns>Whether it could be read.</returns>
    public static bool TryRead(string text, DateOrder? order, out WallTime wall)
    {
        wall = default;
        if (!TrySplit(text, out int year, out int month, out int day, out TwoNumbers? open, out string rest))
        {
            return false;
        }

        if (open is { } two)
        {
            DateOrder? known = OrderOf(two) ?? order;
            (day, month) = known == DateOrder.MonthFirst ? (two.Second, two.First) : (two.First, two.Second);
            if (known is null && two.First != two.Second)
            {
                return false;
            }
        }

        LocalDate? date = null;
        if (year > 0)
        {
            if (month is < 1 or > 12 || day < 1 || year > 9998 || day > CalendarSystem.Iso.GetDaysInMonth(year, month))
            {
                return false;
            }

            date = new LocalDate(year, month, day);
        }

        if (rest.Length == 0)
        {
            wall = new WallTime(date, null, null);
            return date is not null;
        }

        bool read = TryTime(rest, out LocalTime time, out Offset? offset);
        wall = new WallTime(date, time, offset);
        return read;
    }

    /// <summary>The two small numbers of a date that could be either way round; null: the text is no such date.</summary>
    /// <param name="text">The text.</param>
    public static TwoNumbers? Open(string text) =>
        TrySplit(text, out _, out _, out _, out TwoNumbers? open, out string rest) && (rest.Length == 0 || TryTime(rest, out _, out _)) ? open : null;

    /// <summary>Which order two numbers prove; null: neither, or none.</summary>
    /// <param name="two">The numbers.</param>
    public static DateOrder? OrderOf(TwoNumbers two) => (two.First, two.Second) switch
    {
        ( > 12, <= 12) => DateOrder.DayFirst,
        ( <= 12, > 12) => DateOrder.MonthFirst,
        _ => null,
    };

    // Year 0: there is no date, all of it is the rest.
    private static bool TrySplit(string text, out int year, out int month, out int day, out TwoNumbers? open, out string rest)
    {
        (year, month, day, open, rest) = (0, 0, 0, null, string.Empty);
        if (text.Length is 0 or > Longest)
        {
            return false;
        }

        // 'mar' is a Tuesday to some and March to others: 'Mar 2, 2026' has no weekday.
        string plain = Headings.Plain(text);
        plain = NameThenDay().IsMatch(plain) ? plain : Weekday().Replace(plain, string.Empty);
        if (YearFirst().Match(plain) is { Success: true } ymd)
        {
            (year, month, day, rest) = (Int(ymd, 1), Int(ymd, 2), Int(ymd, 3), ymd.Groups[4].Value);
        }
        else if (YearLast().Match(plain) is { Success: true } numbers)
        {
            year = FullYear(numbers.Groups[4].Value);
            open = new TwoNumbers(Int(numbers, 1), Int(numbers, 3), numbers.Groups[2].Value.Trim() is { Length: > 0 } mark ? mark[0] : ' ');
            rest = numbers.Groups[5].Value;
        }
        else if (DayThenName().Match(plain) is { Success: true } named && MonthOf(named.Groups[2].Value) is var number and > 0)
        {
            (year, month, day, rest) = (FullYear(named.Groups[3].Value), number, Int(named, 1), named.Groups[4].Value);
        }
        else if (NameThenDay().Match(plain) is { Success: true } american && MonthOf(american.Groups[1].Value) is var first and > 0)
        {
            (year, month, day, rest) = (FullYear(american.Groups[3].Value), first, Int(american, 2), american.Groups[4].Value);
        }
        else
        {
            rest = plain;
        }

        rest = rest.Trim(' ', ',', ';');
        rest = year > 0 && rest.StartsWith('t') ? rest[1..] : rest;
        return true;
    }

    private static bool TryTime(string text, out LocalTime time, out Offset? offset)
    {
        (time, offset) = (default, null);
        Match match = Time().Match(text);
        if (!match.Success)
        {
            return false;
        }

        int hour = Int(match, 1);
        int minute = match.Groups[2].Success ? Int(match, 2) : 0;
        int second = match.Groups[3].Success ? Int(match, 3) : 0;
        int thousandths = match.Groups[4].Success ? int.Parse(match.Groups[4].Value.PadRight(3, '0')[..3], CultureInfo.InvariantCulture) : 0;
        string half = match.Groups[5].Value.Replace(".", string.Empty, StringComparison.Ordinal);
        if (half is "am" or "pm")
        {
            hour = hour is < 1 or > 12 ? -1 : (hour % 12) + (half == "pm" ? 12 : 0);
        }

        // Digits alone are a time only where something says so.
        bool told = match.Groups[2].Success || half.Length > 0;
        if (!told || hour is < 0 or > 23 || minute > 59 || second > 59)
        {
            return false;
        }

        time = new LocalTime(hour, minute, second, thousandths);
        string zone = match.Groups[6].Value;
        if (zone.Length > 0)
        {
            int minutes = zone[0] is '+' or '-' ? (int.Parse(zone[1..3], CultureInfo.InvariantCulture) * 60) + int.Parse(zone[^2..], CultureInfo.InvariantCulture) : 0;
            if (minutes > 18 * 60)
            {
                return false;
            }

            offset = Offset.FromSeconds((zone[0] == '-' ? -minutes : minutes) * 60);
        }

        return true;
    }

    private static int Int(Match match, int group) => int.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);

    private static int FullYear(string year)
    {
        int number = int.Parse(year, CultureInfo.InvariantCulture);
        return year.Length > 2 ? number : number < 70 ? 2000 + number : 1900 + number;
    }

    private static int MonthOf(string name) => Array.FindIndex(Months, names => names.Contains(name)) + 1;

    [GeneratedRegex(@"^(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun|mo|di|mi|do|fr|sa|so|lun|mar|mer|jeu|ven|sam|dim|monday|tuesday|wednesday|thursday|friday|saturday|sunday|montag|dienstag|mittwoch|donnerstag|freitag|samstag|sonntag|lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche)\b[.,]*\s+(?=\d|[a-z]{3,9}\.?\s+\d)")]
    private static partial Regex Weekday();

    [GeneratedRegex(@"^(\d{4})(?:[-/.]|(?=\d{4}$))(\d{1,2})(?:[-/.]|(?=\d{2}$))(\d{1,2})(?!\d)(.*)$")]
    private static partial Regex YearFirst();

    [GeneratedRegex(@"^(\d{1,2})(\s*[-/.]\s*| )(\d{1,2})(?:\s*[-/.]\s*| )(\d{4}|\d{2})(?!\d)(.*)$")]
    private static partial Regex YearLast();

    [GeneratedRegex(@"^(\d{1,2})(?:st|nd|rd|th|er)?[-. ]+([a-z]{3,9})[-., ]+(\d{4}|\d{2})(?!\d)(.*)$")]
    private static partial Regex DayThenName();

    [GeneratedRegex(@"^([a-z]{3,9})[. ]+(\d{1,2})(?:st|nd|rd|th)?,? +(\d{4})(.*)$")]
    private static partial Regex NameThenDay();

    [GeneratedRegex(@"^(\d{1,2})(?:\s*[:.h]\s*(\d{2})(?:[:.](\d{2})(?:[.,](\d{1,9}))?)?)?\s*(a\.?m\.?|p\.?m\.?|uhr|h)?\s*(z|utc|gmt|[+-]\d{2}:?\d{2})?$")]
    private static partial Regex Time();
}
