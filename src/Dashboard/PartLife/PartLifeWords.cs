using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>Words for clocks and groups of parts.</summary>
public static class PartLifeWords
{
    private const int LongestUnitOfAxis = 20;

    private static PartLifeTexts Texts => PartLifeTexts.Now;

    /// <summary>What ages are counted in.</summary>
    /// <param name="clock">days, washes or operating_hours; null: days.</param>
    /// <returns>The unit of an age.</returns>
    public static string Clock(string? clock) => Texts.Clocks.GetValueOrDefault(clock ?? "days") ?? Text.ClockUnit(clock);

    /// <summary>What ages are counted in, as it stands after 'in'.</summary>
    /// <param name="clock">days, washes or operating_hours; null: days.</param>
    /// <returns>The unit of an age.</returns>
    public static string InClock(string? clock) => Texts.ClocksAfterIn.GetValueOrDefault(clock ?? "days") ?? Text.ClockUnit(clock);

    /// <summary>What runs along an axis of ages, such as 'Age, days'.</summary>
    /// <param name="clock">days, washes or operating_hours; null: days.</param>
    /// <returns>A few words with the unit.</returns>
    public static string AgeAxis(string? clock) => Fill.In(PartLifeFitTexts.Now.AgeAxis, ("clock", Text.Cut(Clock(clock), LongestUnitOfAxis)));

    /// <summary>What parts are compared by.</summary>
    /// <param name="by">part_number, batch, supplier, model, operator, region or water_hardness.</param>
    /// <returns>A noun that begins a sentence.</returns>
    public static string Grouping(string by) => Texts.Groupings.GetValueOrDefault(by) ?? Text.Words(by);

    /// <summary>What parts are compared by, inside of a sentence.</summary>
    /// <param name="by">As above.</param>
    /// <returns>A noun.</returns>
    public static string GroupingInside(string by) => Texts.GroupingsInside.GetValueOrDefault(by) ?? Text.Words(by).ToLowerInvariant();

    /// <summary>A group of parts.</summary>
    /// <param name="group">Its name, as addresses spell it.</param>
    /// <returns>The name; words where it has none of its own.</returns>
    public static string Group(string group) => Texts.Groups.GetValueOrDefault(group) ?? group;
}
