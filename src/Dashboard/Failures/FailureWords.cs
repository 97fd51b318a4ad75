using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>The page's words for what a reader chooses and for what the figures say.</summary>
public static class FailureWords
{
    /// <summary>What a row stands out by, beside its mark.</summary>
    public static string StandsOut => Texts.StandsOut;

    private static FailuresTexts Texts => FailuresTexts.Now;

    /// <summary>What rates are told apart by.</summary>
    /// <param name="by">The group.</param>
    /// <returns>A noun in the singular.</returns>
    public static string One(RateGroup by) => Texts.RateGroups[by];

    /// <summary>What a Pareto table counts by.</summary>
    /// <param name="by">The group.</param>
    /// <returns>A noun in the singular.</returns>
    public static string One(ParetoGroup by) => Texts.ParetoGroups[by];

    /// <summary>What a Pareto table is ordered by.</summary>
    /// <param name="measure">The measure.</param>
    /// <returns>A few words in the plural.</returns>
    public static string Name(ParetoMeasure measure) => Texts.Measures[measure];

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
        ? Texts.Expected.For((int)Math.Round(expected.Value), ("lower", Washes(lower)), ("upper", Washes(upper)))
        : Text.Estimated(expected, Texts.FailuresUnit);

    /// <summary>Washes, all their digits: a count is never rounded.</summary>
    /// <param name="washes">The washes; null and what is no number are not known.</param>
    /// <returns>The count.</returns>
    public static string Washes(double? washes) =>
        washes is { } number && IsCount(number) ? Text.Count((int)Math.Round(number)) : Text.NotKnown;

    /// <summary>A verdict on the trend.</summary>
    /// <param name="verdict">getting_worse, getting_better, no_trend_shown or too_little_data.</param>
    /// <returns>The verdict in words.</returns>
    public static string Verdict(string verdict) => Texts.Verdicts.GetValueOrDefault(verdict) ?? Text.Words(verdict);

    /// <summary>What a repeat points to.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>A few words.</returns>
    public static string Name(RepeatKind cause) => Texts.RepeatKinds[cause];

    /// <summary>What can be done about repeats of a cause.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>What it means and what to do, in one sentence.</returns>
    public static string Meaning(RepeatKind cause) => Texts.RepeatMeanings[cause];

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
