using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on the plan: parts, forecasts, replacements.</summary>
public static class PlanSentences
{
    /// <summary>A name within a sentence; one that begins with an abbreviation keeps its capitals.</summary>
    /// <param name="name">The name.</param>
    internal static string Lower(string name) =>
        name.Length > 1 && char.IsUpper(name[0]) && char.IsLower(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;

    /// <summary>What is ahead of a part.</summary>
    /// <param name="row">The part; its sentence may still be empty.</param>
    /// <param name="today">The day at its site.</param>
    public static string Part(PlannedPartRow row, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.Decision is { } decision)
        {
            return decision.Sentence;
        }

        if (row.NotPlanned is { } why)
        {
            string chance = row.Chance90Days is { } known ? $" {Text.Capital(Text.Share(known.Value))} chance to fail within 90 days." : string.Empty;
            return $"Nothing is planned: {why}.{chance}";
        }

        string ahead = $"{Text.Share(row.Chance90Days?.Value)} chance to fail within 90 days";
        return row.Verdict switch
        {
            PlanVerdict.ReplaceAtAge when row.DueOn <= today => $"Past the age at which replacing is cheapest; {ahead}.",
            PlanVerdict.ReplaceAtAge => row.DueOn is { } due ? $"Cheapest replaced about {Text.Date(due)}; {ahead}."
                : $"Cheapest replaced more than ten years ahead; {ahead}.",
            PlanVerdict.RunToFailure => $"Let it run until it fails; {ahead}.",
            _ => $"When to replace it cannot be told; {ahead}.",
        };
    }

    /// <summary>The finding over some parts.</summary>
    /// <param name="parts">How many there are.</param>
    /// <param name="expected90">Failures to be expected within 90 days among those whose chance can be told.</param>
    /// <param name="due">How many are past the age at which replacing is cheapest.</param>
    /// <param name="without">How many have no known chance.</param>
    public static string Parts(int parts, double expected90, int due, int without) => parts == 0 ? "No fitted part is on record here."
        : $"About {Text.Number(expected90)} of {Text.Counted(parts, "fitted part")} will fail within 90 days; "
            + (due == 0 ? "none is" : Text.Counted(due, "is", "are")) + " past the age at which replacing is cheapest."
            + (without == 0 ? string.Empty : $" Of {Text.Counted(without, "part")} the chance cannot be told.");
}
