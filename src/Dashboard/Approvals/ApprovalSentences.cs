using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Approvals;

/// <summary>Words on approvals.</summary>
public static class ApprovalSentences
{
    private const double LeastDaysSaid = 0.05;

    /// <summary>The finding over all open approvals.</summary>
    /// <param name="open">The open approvals, the dearest wait first.</param>
    public static string Finding(IReadOnlyList<ApprovalRow> open)
    {
        ArgumentNullException.ThrowIfNull(open);
        if (open.Count == 0)
        {
            return "No repair waits for an approval.";
        }

        double soFar = open.Sum(row => row.UnwashedDays);
        double next = open.Sum(row => row.UnwashedDaysNextWeek ?? 0);
        string count = Text.Counted(open.Count, "repair waits", "repairs wait") + " for an approval";
        string cost = (soFar > LeastDaysSaid, next > LeastDaysSaid) switch
        {
            (false, false) => "; no wash is missed because of that yet.",
            (true, false) => ": " + Days(soFar) + " without a wash so far.",
            (false, true) => ": " + Days(next) + " without a wash in the coming week if nobody decides.",
            _ => ": " + Days(soFar) + " without a wash so far, and " + Days(next) + " more in the coming week if nobody decides.",
        };
        return count + cost;
    }

    /// <summary>What came of those decided last.</summary>
    /// <param name="decided">The decided approvals shown.</param>
    public static string Decided(IReadOnlyList<ApprovalRow> decided)
    {
        ArgumentNullException.ThrowIfNull(decided);
        double[] waits = [.. decided.Select(row => row.WaitedHours).OfType<double>().Order()];
        return decided.Count == 0 ? "Nothing was decided yet."
            : waits.Length == 0 ? "How long decisions took is not on record."
            : $"Of the {Text.Counted(waits.Length, "decision")} shown, half took {Text.Duration(waits[waits.Length / 2])} or less; the longest took "
                + Text.Duration(waits[^1]) + ".";
    }

    /// <summary>What waiting costs, or cost.</summary>
    /// <param name="row">The approval; its sentence may still be empty.</param>
    public static string Cost(ApprovalRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.State == ApprovalState.Open ? OpenCost(row) : DecidedCost(row);
    }

    /// <summary>A number of days with its noun.</summary>
    /// <param name="days">Days.</param>
    public static string Days(double days) => Math.Round(days, 1) == 1 ? "1 day"
        : double.IsFinite(days) ? Text.Tick(Math.Round(days, days < 10 ? 1 : 0)) + " days" : Text.NotKnown;

    private static string OpenCost(ApprovalRow row)
    {
        string soFar = row.UnwashedDays > LeastDaysSaid
            ? $"The oven has gone {Days(row.UnwashedDays)} without a wash that counts because of this wait."
            : "No wash was missed because of this wait so far.";
        string next = row.UnwashedDaysNextWeek switch
        {
            null => " What the coming week brings cannot be told.",
            > LeastDaysSaid and { } days => $" Each week without a decision costs about {Days(days)} more.",
            _ => " The coming week brings none.",
        };
        string companions = row.CompanionChance30Days is { } chance && row.Companions.Count > 0
            ? $" With each month, {Text.Share(chance)} chance that {Either(row.Companions)} fails too."
            : string.Empty;
        string kitchen = row switch
        {
            { UnitsAtSite: <= 1 } => " It is the only oven of this kitchen.",
            { OtherUnitsThatWash: 0 } => " No other oven of this kitchen can wash.",
            { OtherUnitsThatWash: { } others } => $" {Text.Counted(others, "other oven", "other ovens")} of this kitchen can wash.",
            _ => string.Empty,
        };
        return soFar + next + kitchen + companions;
    }

    private static string DecidedCost(ApprovalRow row)
    {
        string waited = row.WaitedHours is { } hours ? "Decided after " + Text.Duration(hours) : "Decided; when it was asked for is not known";
        return waited + (row.UnwashedDays > LeastDaysSaid ? $", which cost {Days(row.UnwashedDays)} without a wash." : "; no wash was missed because of that.");
    }

    private static string Either(IReadOnlyList<string> names) => names.Count == 1
        ? "the " + Lower(names[0])
        : "the " + string.Join(", the ", names.Take(names.Count - 1).Select(Lower)) + " or the " + Lower(names[^1]);

    // A name that begins with an abbreviation keeps its capitals.
    private static string Lower(string name) =>
        name.Length > 1 && char.IsUpper(name[0]) && char.IsLower(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;
}
