using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>What the page of today says of roles; page and API say the same.</summary>
public static class TodaySentences
{
    /// <summary>What stands where there is no unit at all.</summary>
    public static string NoUnit => TodayTexts.Now.NoUnit;

    /// <summary>A role, as a choice and as a heading.</summary>
    /// <param name="role">The role.</param>
    public static string Name(TodayRole role) => TodayTexts.Now.Roles[role];

    /// <summary>How much needs a role.</summary>
    /// <param name="role">The role.</param>
    /// <param name="lines">How many lines it has.</param>
    /// <returns>A sentence.</returns>
    public static string Finding(TodayRole role, int lines) =>
        lines == 0 ? TodayTexts.Now.NothingNeeds[role] : TodayTexts.Now.ThingsNeed[role].For(lines);

    /// <summary>What is looked at for a role, for a reader whose list is empty.</summary>
    /// <param name="role">The role.</param>
    public static string LooksAt(TodayRole role) => TodayTexts.Now.LooksAt[role];

    /// <summary>The chance of a fitted part to fail within 90 days.</summary>
    /// <param name="chance">The chance, 0 to 1.</param>
    public static string Wearing(double chance) => Fill.In(TodayTexts.Now.Wearing.Sentence, ("share", Text.Share(chance)));
}
