using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on when parts are best replaced.</summary>
public static class ReplacementSentences
{
    /// <summary>The finding over some rows.</summary>
    /// <param name="rows">The rows.</param>
    public static string Finding(IReadOnlyCollection<ReplacementRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        if (rows.Count == 0)
        {
            return "No fitted part is on record here, so nothing is planned.";
        }

        string[] early = [.. rows.Where(row => row.Verdict == PlanVerdict.ReplaceAtAge).Select(row => row.PositionName).Distinct()];
        int run = rows.Where(row => row.Verdict == PlanVerdict.RunToFailure).Select(row => row.Position).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        int unknown = rows.Where(row => row.Verdict == PlanVerdict.Unknown).Select(row => row.Position).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        string replace = early.Length == 0 ? "No part is shown to be cheaper replaced before it fails"
            : $"{Text.Counted(early.Length, "kind of part is", "kinds of part are")} cheaper replaced before they fail ({string.Join(", ", early.Select(PlanSentences.Lower))})";
        string rest = (run, unknown) switch
        {
            (0, 0) => ".",
            (_, 0) => $"; {Text.Counted(run, "is", "are")} best left until they fail.",
            (0, _) => $"; of {Text.Counted(unknown, "kind")} nothing can be said yet.",
            _ => $"; {Text.Counted(run, "is", "are")} best left until they fail; of {Text.Counted(unknown, "kind")} nothing can be said yet.",
        };
        return replace + rest;
    }

    /// <summary>What is best done with the parts of a row.</summary>
    /// <param name="row">The row; its sentence may still be empty.</param>
    public static string Row(ReplacementRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.NotPlanned is { } why)
        {
            return $"Nothing is planned: {why}.";
        }

        if (row.Verdict == PlanVerdict.RunToFailure)
        {
            return row.Reason ?? "Let it run until it fails.";
        }

        string days = row.AgeDays is { } known && row.Clock != "days" ? $" (about {Text.Number(known)} days)" : string.Empty;
        string saving = row.SavingPerYear is { } money ? $" It saves about {Text.Number(money)} a year and position." : string.Empty;
        string flat = row.FlatFrom is { } from ? $" Anything from {Text.Number(from)} to {(row.FlatTo is { } to ? Text.Number(to) : "any age")} costs about the same." : string.Empty;
        return $"Replace it at {Text.Number(row.Age?.Value)} {Text.ClockUnit(row.Clock)}{days}.{saving}{flat}";
    }
}
