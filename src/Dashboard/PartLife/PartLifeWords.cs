using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>Words for groups of parts.</summary>
public static class PartLifeWords
{
    private static PartLifeTexts Texts => PartLifeTexts.Now;

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
