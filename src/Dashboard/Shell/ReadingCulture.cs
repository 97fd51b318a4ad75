using System.Collections.Concurrent;
using System.Globalization;
using NodaTime;

namespace Washwear.Dashboard.Shell;

/// <summary>How a country writes numbers, dates and times of day. The words in them (names of months and days) are those of the page's language:
/// so a date is never half in another one. Held here, not asked of the machine: a machine without such data, or with other ones, writes the same.
/// Source: Unicode CLDR (number symbols, first day of the week, order of a date, hours), compared in a test.</summary>
/// <param name="Code">BCP 47 tag, such as en-GB.</param>
/// <param name="Name">Name in its own language.</param>
/// <param name="DecimalMark">What stands before decimals.</param>
/// <param name="GroupMark">What sets thousands apart.</param>
/// <param name="FirstDay">Day on which a week begins.</param>
/// <param name="MonthFirst">Whether the month is written before the day.</param>
/// <param name="TwelveHour">Whether hours are counted to twelve.</param>
public sealed record ReadingCulture(
    string Code, string Name, string DecimalMark, string GroupMark, IsoDayOfWeek FirstDay = IsoDayOfWeek.Monday, bool MonthFirst = false, bool TwelveHour = false)
{
    // Numbers must not be torn apart at the end of a line.
    private const string Space = "\u00a0";

    private static readonly ConcurrentDictionary<(string Culture, string Language), CultureInfo> Formats = new();

    /// <summary>Where nobody has said anything.</summary>
    public static ReadingCulture Standard { get; } = new("en-GB", "English (United Kingdom)", ".", ",");

    /// <summary>Those that can be chosen, each language with its main country first.</summary>
    public static IReadOnlyList<ReadingCulture> All { get; } =
    [
        Standard,
        new("en-US", "English (United States)", ".", ",", IsoDayOfWeek.Sunday, MonthFirst: true, TwelveHour: true),
        new("en-AU", "English (Australia)", ".", ",", TwelveHour: true),
        new("en-CA", "English (Canada)", ".", ",", IsoDayOfWeek.Sunday, MonthFirst: true, TwelveHour: true),
        new("en-IE", "English (Ireland)", ".", ","),
        new("de-DE", "Deutsch (Deutschland)", ",", "."),
        new("de-AT", "Deutsch (Österreich)", ",", Space),
        new("de-CH", "Deutsch (Schweiz)", ".", "’"),
        new("es-ES", "Español (España)", ",", "."),
        new("fr-FR", "Français (France)", ",", Space),
        new("it-IT", "Italiano (Italia)", ",", "."),
        new("nl-NL", "Nederlands (Nederland)", ",", "."),
        new("sv-SE", "Svenska (Sverige)", ",", Space),
    ];

    /// <summary>A culture by its tag.</summary>
    /// <param name="code">The tag; null: none.</param>
    /// <returns>Null where there is no such one.</returns>
    public static ReadingCulture? Find(string? code) =>
        All.FirstOrDefault(culture => string.Equals(culture.Code, code, StringComparison.OrdinalIgnoreCase));

    /// <summary>The culture that fits a browser's language best: itself, else the main country of the same language.</summary>
    /// <param name="tag">Tag of the language, such as de or de-LI.</param>
    /// <returns>Null where none is of that language.</returns>
    public static ReadingCulture? Nearest(string tag)
    {
        ArgumentNullException.ThrowIfNull(tag);
        string language = tag.Split('-')[0];
        return Find(tag) ?? All.FirstOrDefault(culture => culture.Code.StartsWith(language + "-", StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>Writes numbers as this country does and names of months and days in a language.</summary>
    /// <param name="language">Code of the language.</param>
    /// <returns>A format that cannot be changed.</returns>
    public CultureInfo FormatIn(string language) => Formats.GetOrAdd((Code, language), _ => CultureInfo.ReadOnly(Make(language)));

    private CultureInfo Make(string language)
    {
        var format = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        format.NumberFormat.NumberDecimalSeparator = DecimalMark;
        format.NumberFormat.NumberGroupSeparator = GroupMark;
        CalendarWords words = CalendarWords.Of(language);
        DateTimeFormatInfo dates = format.DateTimeFormat;
        dates.MonthNames = dates.MonthGenitiveNames = [.. words.Months, string.Empty];
        dates.AbbreviatedMonthNames = dates.AbbreviatedMonthGenitiveNames = [.. words.ShortMonths, string.Empty];
        dates.DayNames = [.. words.Days];
        dates.AbbreviatedDayNames = [.. words.ShortDays];
        return format;
    }
}
