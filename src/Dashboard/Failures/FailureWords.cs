using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>The page's words for what a reader chooses and for what the figures say.</summary>
public static class FailureWords
{
    /// <summary>What a row stands out by, beside its mark.</summary>
    public const string StandsOut = "stands out";

    /// <summary>Groups that recurrence can be compared by.</summary>
    public static IReadOnlyList<Choice> Comparisons { get; } =
        [new("operator", "operator"), new("site", "site"), new("model", "model"), new("region", "region")];

    /// <summary>What one failure is called.</summary>
    /// <param name="kind">What counts as one failure.</param>
    /// <returns>A noun in the singular.</returns>
    public static string One(FailureKind kind) => kind switch
    {
        FailureKind.Faults => "fault",
        FailureKind.Parts => "failed part",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of failure."),
    };

    /// <summary>What rates are told apart by.</summary>
    /// <param name="by">The group.</param>
    /// <returns>A noun in the singular.</returns>
    public static string One(RateGroup by) => by switch
    {
        RateGroup.Unit => "unit",
        RateGroup.Site => "site",
        RateGroup.Operator => "operator",
        RateGroup.Model => "model",
        RateGroup.PartNumber => "part number",
        _ => throw new ArgumentOutOfRangeException(nameof(by), by, "No such group of rates."),
    };

    /// <summary>What a Pareto table counts by.</summary>
    /// <param name="by">The group.</param>
    /// <returns>A noun in the singular.</returns>
    public static string One(ParetoGroup by) => by switch
    {
        ParetoGroup.Position => "position",
        ParetoGroup.Mode => "failure mode",
        ParetoGroup.Cause => "cause found",
        ParetoGroup.Code => "fault code",
        _ => throw new ArgumentOutOfRangeException(nameof(by), by, "No such Pareto group."),
    };

    /// <summary>What a Pareto table is ordered by.</summary>
    /// <param name="measure">The measure.</param>
    /// <returns>A few words in the plural.</returns>
    public static string Name(ParetoMeasure measure) => measure switch
    {
        ParetoMeasure.Count => "failures",
        ParetoMeasure.LockedOutHours => "hours locked out of washing",
        ParetoMeasure.UnwashedDays => "days without a wash that counts",
        _ => throw new ArgumentOutOfRangeException(nameof(measure), measure, "No such measure."),
    };

    /// <summary>A fault code that its name does not already say.</summary>
    /// <param name="name">The fault's name, which often begins with its code.</param>
    /// <param name="code">The code; null for no fault.</param>
    /// <returns>The code; null where there is none, or where the name has it.</returns>
    public static string? Beside(string name, string? code)
    {
        ArgumentNullException.ThrowIfNull(name);
        return code is null || name.StartsWith(code, StringComparison.OrdinalIgnoreCase) ? null : code;
    }

    /// <summary>How many failures are to be expected, in whole failures with the bounds.</summary>
    /// <param name="expected">The count; null: not known.</param>
    /// <returns>Such as 'about 58 failures (43 to 74)'.</returns>
    public static string Expected(Estimate? expected) =>
        expected is { Lower: { } lower, Upper: { } upper } && IsCount(expected.Value) && IsCount(lower) && IsCount(upper)
        ? "about " + Text.Counted((int)Math.Round(expected.Value), "failure") + " (" + Washes(lower) + " to " + Washes(upper) + ")"
        : Text.Estimated(expected, "failures");

    /// <summary>Washes, all their digits: a count is never rounded.</summary>
    /// <param name="washes">The washes; null and what is no number are not known.</param>
    /// <returns>The count.</returns>
    public static string Washes(double? washes) =>
        washes is { } number && IsCount(number) ? Text.Count((int)Math.Round(number)) : Text.NotKnown;

    /// <summary>A verdict on the trend.</summary>
    /// <param name="verdict">getting_worse, getting_better, no_trend_shown or too_little_data.</param>
    /// <returns>The verdict in words.</returns>
    public static string Verdict(string verdict) => verdict switch
    {
        "getting_worse" => "Getting worse",
        "getting_better" => "Getting better",
        "no_trend_shown" => "No trend shown",
        "too_little_data" => "Too little data",
        _ => Text.Words(verdict),
    };

    /// <summary>What a repeat points to.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>A few words.</returns>
    public static string Name(RepeatKind cause) => cause switch
    {
        RepeatKind.WrongCauseFound => "Wrong cause found",
        RepeatKind.RepairDidNotHold => "Repair did not hold",
        RepeatKind.BadBatch => "Bad batch",
        RepeatKind.UnitEatsParts => "Unit wears out its parts",
        RepeatKind.Unexplained => "More than chance, cause open",
        RepeatKind.AsExpected => "Nothing beyond chance",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "No such cause of a repeat."),
    };

    /// <summary>What can be done about repeats of a cause.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>What it means and what to do, in one sentence.</returns>
    public static string Meaning(RepeatKind cause) => cause switch
    {
        RepeatKind.WrongCauseFound => "The same fault came back and the next repair was elsewhere: look again at how the cause was found.",
        RepeatKind.RepairDidNotHold => "The same place failed early in the life of the new part: look at how it was fitted.",
        RepeatKind.BadBatch => "The part is of a batch that fails more than its age explains: check the stock and those still fitted.",
        RepeatKind.UnitEatsParts => "The unit fails here more than others do: look for what spoils the part, such as water, heat or load.",
        RepeatKind.Unexplained => "More repairs came back here than chance explains, and none of the above fits: look at the unit.",
        RepeatKind.AsExpected => "Parts here fail this often within such a time: nothing speaks for a fault of the repair.",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "No such cause of a repeat."),
    };

    /// <summary>A code as addresses spell it.</summary>
    /// <param name="value">A choice of this page.</param>
    /// <returns>Lower case with underscores.</returns>
    public static string Code(Enum value)
    {
        ArgumentNullException.ThrowIfNull(value);
        return Urls.Snake(value.ToString());
    }

    private static bool IsCount(double number) => Math.Abs(number) < int.MaxValue;
}
