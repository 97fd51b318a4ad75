using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>How often units have failed by an age or a day, in words.</summary>
public static class RecurrenceSentences
{
    private const double Level = 0.05;
    private const int Few = 3;

    /// <summary>The finding.</summary>
    /// <param name="groups">The curves, the one with most units first.</param>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="comparison">Whether they differ; null: not compared.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(IReadOnlyList<RecurrenceGroup> groups, FailureChoice choice, RecurrenceComparison? comparison)
    {
        ArgumentNullException.ThrowIfNull(groups);
        ArgumentNullException.ThrowIfNull(choice);
        int failures = groups.Sum(group => group.Failures);
        if (failures == 0)
        {
            return "No failure is on record for these units.";
        }

        RecurrenceGroup first = groups[0];
        if (comparison is not null || groups.Count > 1)
        {
            return (comparison?.Sentence ?? "Whether the groups differ cannot be tested with these records.")
                + " " + string.Join("; ", groups.Where(group => group.Steps.Count > 0).Take(3).Select(group => Reached(group, choice, group.Name + ": "))) + ".";
        }

        return Text.Capital(Reached(first, choice, string.Empty)) + "." + (first.Units < Few ? " That is the record of " + Text.Counted(first.Units, "unit") + " only." : string.Empty);
    }

    /// <summary>Whether groups differ.</summary>
    /// <param name="pValue">p-value of no difference.</param>
    /// <param name="by">What they are told apart by.</param>
    /// <returns>One sentence.</returns>
    public static string Compared(double pValue, string by) => pValue < Level
        ? "Failures recur at different rates by " + by + " (" + Text.PValue(pValue) + ")."
        : "No difference in recurrence by " + by + " is shown beyond chance (" + Text.PValue(pValue) + ").";

    private static string Reached(RecurrenceGroup group, FailureChoice choice, string before)
    {
        // The oldest ages rest on the few units that reached them: read the curve where a quarter of all still stood behind it.
        RecurrenceStep last = group.Steps.LastOrDefault(step => step.AtRisk * 4 >= group.Units) ?? group.Steps[^1];
        string by = choice.Axis == RecurrenceAxis.Age ? " by the age of " + Text.Number(last.Day) + " days" : " by day " + Text.Number(last.Day) + " of the window";
        string bounds = last is { Lower: { } lower, Upper: { } upper } ? " (" + Text.Number(lower) + " to " + Text.Number(upper) + ")" : string.Empty;
        return before + "a unit has had " + Text.Number(last.Mean) + " failures on average" + bounds + by;
    }
}
