namespace Washwear.Dashboard.Shell;

/// <summary>Names of months and days in a language, and how a date is put together in it. Source: Unicode CLDR, compared in a test.</summary>
/// <param name="Months">January to December.</param>
/// <param name="ShortMonths">The same, abbreviated.</param>
/// <param name="Days">Sunday to Saturday.</param>
/// <param name="ShortDays">The same, abbreviated.</param>
/// <param name="Dot">What stands after the number of a day before the month's name.</param>
/// <param name="MayPutMonthFirst">Whether the language has the order of month, day, year too.</param>
internal sealed record CalendarWords(
    IReadOnlyList<string> Months,
    IReadOnlyList<string> ShortMonths,
    IReadOnlyList<string> Days,
    IReadOnlyList<string> ShortDays,
    string Dot,
    bool MayPutMonthFirst)
{
    private static readonly CalendarWords English = new(
        ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"],
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
        ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"],
        ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"],
        string.Empty,
        MayPutMonthFirst: true);

    private static readonly CalendarWords German = new(
        ["Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"],
        ["Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."],
        ["Sonntag", "Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag"],
        ["So", "Mo", "Di", "Mi", "Do", "Fr", "Sa"],
        ".",
        MayPutMonthFirst: false);

    /// <summary>Those of a language.</summary>
    /// <param name="language">Code of the language.</param>
    public static CalendarWords Of(string language) => language == "de" ? German : English;
}
