using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

internal sealed record WashCalendarTexts
{
    internal static TextFile<WashCalendarTexts> File { get; } = new("WashCalendar");

    internal static WashCalendarTexts Now => File.Now;

    // Within a sentence; with a capital where they stand alone.
    public required IReadOnlyDictionary<WashDayKind, string> Names { get; init; }

    // One character each, all different.
    public required IReadOnlyDictionary<WashDayKind, string> Letters { get; init; }

    // At most ten characters, as a kitchen would say it.
    public required IReadOnlyDictionary<WashDayKind, string> Brief { get; init; }

    // A wash of a grade that was too low.
    public required IReadOnlyDictionary<ProgrammeGrade, string> WashedAt { get; init; }

    public required IReadOnlyDictionary<ProgrammeGrade, string> AskedFor { get; init; }

    public required string TooLow { get; init; }

    public required string SoFar { get; init; }

    public required string NoRule { get; init; }

    public required string NotYetThere { get; init; }

    public required string NoLongerThere { get; init; }

    public required string InGrace { get; init; }

    public required string NoDay { get; init; }

    public required PluralText KeptOf { get; init; }

    public required string AllKept { get; init; }

    public required PluralText Commonest { get; init; }

    public required string Title { get; init; }

    public required string Value { get; init; }

    public required string Heading { get; init; }

    public required string Key { get; init; }

    public required string Caption { get; init; }

    public required string WeekOf { get; init; }

    public required string MonthByMonth { get; init; }

    public required string Month { get; init; }

    public required string NoneOwed { get; init; }

    public required string OwedKept { get; init; }

    public required string AllPlain { get; init; }

    public required string Told { get; init; }

    public required string Line { get; init; }

    public required string FromTo { get; init; }
}
