using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>What the page of today says of roles; page and API say the same.</summary>
public static class TodaySentences
{
    /// <summary>A role, as a choice and as a heading.</summary>
    /// <param name="role">The role.</param>
    public static string Name(TodayRole role) => role switch
    {
        TodayRole.Technician => "Technician",
        TodayRole.Service => "Service manager",
        TodayRole.Operator => "Operator of kitchens",
        TodayRole.Planner => "Planner",
        _ => throw new ArgumentOutOfRangeException(nameof(role), role, "A role without a name."),
    };

    /// <summary>How much needs a role.</summary>
    /// <param name="role">The role.</param>
    /// <param name="lines">How many lines it has.</param>
    /// <returns>A sentence.</returns>
    public static string Finding(TodayRole role, int lines) => (lines == 0 ? "Nothing needs" : Text.Counted(lines, "thing needs", "things need")) + role switch
    {
        TodayRole.Technician => " a technician today.",
        TodayRole.Service => " the service manager today.",
        TodayRole.Operator => " the operator of kitchens today.",
        TodayRole.Planner => " the planner today.",
        _ => throw new ArgumentOutOfRangeException(nameof(role), role, "A role without a sentence."),
    };

    /// <summary>What is looked at for a role, for a reader whose list is empty.</summary>
    /// <param name="role">The role.</param>
    public static string LooksAt(TodayRole role) => role switch
    {
        TodayRole.Technician => "Looked at: ovens that cannot wash and wait for a visit, repairs that were approved and are not done, repairs that nothing proves yet.",
        TodayRole.Service => "Looked at: what fails again or more often, repairs that wait for an approval, washes that get worse, rows refused at the door.",
        TodayRole.Operator => "Looked at: ovens past the deadline of a wash that counts and why, lockouts that nobody told the service of, ovens that are silent.",
        TodayRole.Planner => "Looked at: visits of the next 14 days, parts past their cheapest age or likely to fail, stock that is short, lockouts that wait for a part.",
        _ => throw new ArgumentOutOfRangeException(nameof(role), role, "A role that looks at nothing."),
    };

    /// <summary>The subject of a line about ovens, such as 'OVEN-7 at Pier 4' or '8 ovens'.</summary>
    /// <param name="count">How many.</param>
    /// <param name="unit">The first one's asset tag.</param>
    /// <param name="site">The first one's kitchen.</param>
    public static string Ovens(int count, string unit, string site) => count == 1 ? unit + " at " + site : Text.Counted(count, "oven");
}
