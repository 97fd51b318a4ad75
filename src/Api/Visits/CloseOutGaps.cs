using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>What was entered in a close-out and would not be recorded, because the choice that it belongs to was not made: it is asked about
/// instead of being dropped.</summary>
internal static class CloseOutGaps
{
    private const string Rule = "belongs_to_nothing";

    /// <summary>The gaps.</summary>
    /// <param name="values">What was entered.</param>
    public static IEnumerable<CloseOutProblem> Of(CloseOutValues values)
    {
        foreach (string reading in Named(values, "check/", "/reading").Where(field => values.Of(field + "/result") is null))
        {
            yield return new CloseOutProblem(
                reading + "/result", Rule, "A reading was entered, but not whether the check passed.", "Choose pass or fail, or take the reading out.");
        }

        foreach (string part in Named(values, "part/", "/mode").Concat(Named(values, "part/", "/seen-on")).Distinct(StringComparer.Ordinal)
            .Where(field => values.Of(field + "/out") is null))
        {
            yield return new CloseOutProblem(
                part + "/out", Rule, "It is told how the part failed, but not that it was taken out.", "Choose why it was taken out, or take back how it failed.");
        }

        foreach (string part in Named(values, "part/", "/batch").Where(field => (values.Of(field + "/in") ?? values.Of(field + "/number")) is null))
        {
            yield return new CloseOutProblem(
                part + "/in", Rule, "A batch was entered, but not which part was put in.", "Choose what was put in, or take the batch out.");
        }

        if (values.Of("other/mode") is not null && values.Of("other/position") is null)
        {
            yield return new CloseOutProblem("other", Rule, "It is told what was wrong, but not where.", "Choose the position, or say it in the note.");
        }
    }

    // The groups in which a field is filled.
    private static IEnumerable<string> Named(CloseOutValues values, string begins, string ends) => values.Names
        .Where(name => name.StartsWith(begins, StringComparison.Ordinal) && name.EndsWith(ends, StringComparison.Ordinal)
            && name.Count(letter => letter == CloseOutRecords.Separator) == 2 && values.Of(name) is not null)
        .Select(name => name[..^ends.Length]);
}
