using Washwear.Analytics.Recurrence;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Whether failures come more often, in words.</summary>
public static class FailureTrendSentences
{
    /// <summary>What the answer is worked out by, for its basis.</summary>
    public static string Method => Texts.MethodName;

    private static FailureTrendTexts Texts => FailureTrendTexts.Now;

    /// <summary>The verdict.</summary>
    /// <param name="verdict">What was found.</param>
    /// <param name="months">The months.</param>
    /// <returns>One sentence.</returns>
    public static string Of(TrendVerdict verdict, IReadOnlyList<FailureMonth> months)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(months);
        string? text = verdict.Finding switch
        {
            TrendFinding.GettingWorse => Texts.GettingWorse,
            TrendFinding.GettingBetter => Texts.GettingBetter,
            TrendFinding.NoTrendShown => Texts.NoTrendShown,
            _ => null,
        };
        if (text is null)
        {
            return verdict.Events == 0
                ? Texts.NoFailure
                : Fill.In(Texts.TooFew, ("events", Text.Count(verdict.Events)), ("needed", Text.Count(verdict.EventsNeeded)));
        }

        return Fill.In(
            text,
            ("failures", Texts.Failures.For(verdict.Events)),
            ("units", Texts.Units.For(verdict.Units)),
            ("p", verdict.Test is { } test ? Fill.In(Texts.PInBrackets, ("p", Text.PValue(test.PTwoSided))) : string.Empty));
    }

    /// <summary>What would change the verdict.</summary>
    /// <param name="verdict">What was found.</param>
    /// <returns>One sentence; null where nothing can be said.</returns>
    public static string? Change(TrendVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        if (verdict.Change is not { } change)
        {
            return null;
        }

        int days = (int)Math.Round(change.Ahead);
        (string Name, string Value) ahead = ("days", Texts.DaysAhead.For(days));
        return verdict.Finding switch
        {
            TrendFinding.GettingWorse => change.MostToGettingBetter is { } most
                ? Texts.BetterWith.For(most, ahead)
                : Fill.In(Texts.NeverBetter, ("days", Texts.Days.For(days))),
            TrendFinding.GettingBetter => change.FewestToGettingWorse is { } worse ? Texts.WorseWith.For(worse, ahead) : null,
            _ => Either(change, ahead),
        };
    }

    /// <summary>The test that the verdict rests on, and why that one.</summary>
    /// <param name="kind">The test.</param>
    /// <param name="reason">Why.</param>
    /// <returns>One sentence.</returns>
    public static string Test(TrendTestKind kind, TrendTestReason reason) =>
        Fill.In(Texts.TestBecause, ("test", Name(kind)), ("reason", Texts.Reasons[reason]));

    /// <summary>Name of a test.</summary>
    /// <param name="kind">The test.</param>
    /// <returns>Its plain name.</returns>
    public static string Name(TrendTestKind kind) => Texts.TestNames[kind];

    /// <summary>What a test says.</summary>
    /// <param name="direction">Which way it points.</param>
    /// <param name="pValue">Its two-sided p-value.</param>
    /// <param name="level">Confidence level.</param>
    /// <returns>A few words.</returns>
    public static string Says(TrendDirection direction, double pValue, double level) => pValue >= 1 - level ? Texts.MayBeChance
        : direction == TrendDirection.Worsening ? Texts.MoreOften : Texts.LessOften;

    /// <summary>Whether the power law suits the records.</summary>
    /// <param name="goodness">Its test; null: not tested.</param>
    /// <returns>One sentence.</returns>
    public static string Fits(PowerLawGoodness? goodness) => goodness?.PAtMost is not { } most ? Texts.FitNotTested
        : most <= 0.05 ? Texts.FitsBadly
        : most <= 0.10 ? Texts.FitsRoughly
        : Texts.Fits;

    /// <summary>What a month's pace is, told of the last whole month that had a failure.</summary>
    /// <param name="report">The report.</param>
    /// <returns>One sentence; null where there is no such month.</returns>
    public static string? MonthHere(FailureTrendReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return MonthlyRateChart.Drawn(report).Select(pair => pair.Month).LastOrDefault(month => month.Failures > 0 && !MonthlyRateChart.IsPart(month)) is { } last
            ? Texts.Method.MonthHere.For(
                last.Failures, ("month", MonthlyRateChart.Name(last)), ("years", Text.Number(last.UnitYears)), ("rate", Text.Estimated(last.RatePerUnitYear)))
            : null;
    }

    private static string? Either(TrendChange change, (string Name, string Value) ahead)
    {
        string? worse = change.FewestToGettingWorse is { } fewest and > 0 ? Texts.ShowsWorse.For(fewest, ahead) : null;
        string? better = change.MostToGettingBetter is { } most ? Texts.ShowsBetter.For(most)
            : change.QuietUntilGettingBetter is { } quiet and > 0 ? Texts.QuietShowsBetter.For((int)Math.Ceiling(quiet)) : null;
        return worse is null && better is null ? null : Text.Capital(string.Join("; ", new[] { worse, better }.Where(part => part is not null))) + ".";
    }
}
