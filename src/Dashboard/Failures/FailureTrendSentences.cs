using Washwear.Analytics.Recurrence;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Whether failures come more often, in words.</summary>
public static class FailureTrendSentences
{
    /// <summary>The verdict.</summary>
    /// <param name="verdict">What was found.</param>
    /// <param name="months">The months.</param>
    /// <returns>One sentence.</returns>
    public static string Of(TrendVerdict verdict, IReadOnlyList<FailureMonth> months)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(months);
        string counts = Text.Counted(verdict.Events, "failure") + " of " + Text.Counted(verdict.Units, "unit");
        string p = verdict.Test is { } test ? " (" + Text.PValue(test.PTwoSided) + ")" : string.Empty;
        return verdict.Finding switch
        {
            TrendFinding.GettingWorse =>
                "Getting worse: within the units, failures come more often towards the end of this time, by more than chance" + p + "; " + counts + ".",
            TrendFinding.GettingBetter =>
                "Getting better: within the units, failures come less often towards the end of this time, by more than chance" + p + "; " + counts + ".",
            TrendFinding.NoTrendShown => "Neither better nor worse: what the " + counts + " show may be chance" + p + ".",
            _ => verdict.Events == 0
                ? "No failure in this time, so there is no trend to tell."
                : "Too few failures to tell a trend: there are " + Text.Count(verdict.Events) + ", and at least " + Text.Count(verdict.EventsNeeded) + " are needed.",
        };
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

        string days = Text.Counted((int)Math.Round(change.Ahead), "day");
        string ahead = "in the next " + days;
        return verdict.Finding switch
        {
            TrendFinding.GettingWorse => change.MostToGettingBetter is { } most
                ? "It would turn to ‘getting better’ with at most " + Text.Counted(most, "failure") + " " + ahead + "."
                : "Not even " + days + " without a failure would turn it to ‘getting better’.",
            TrendFinding.GettingBetter => change.FewestToGettingWorse is { } worse
                ? "It would turn to ‘getting worse’ with " + Text.Counted(worse, "failure") + " or more " + ahead + "."
                : null,
            _ => Either(change, ahead),
        };
    }

    /// <summary>The test that the verdict rests on, and why that one.</summary>
    /// <param name="kind">The test.</param>
    /// <param name="reason">Why.</param>
    /// <returns>One sentence.</returns>
    public static string Test(TrendTestKind kind, TrendTestReason reason) => Name(kind) + ", because " + (reason switch
    {
        TrendTestReason.VariesAsPoisson => "the times between failures vary as those of chance events do",
        TrendTestReason.TooFewToCheck => "there are too few times between failures to see how they vary",
        TrendTestReason.SpreadTakenFromUnits => "failures come in clusters or at regular times, and there are enough units to see by how much",
        TrendTestReason.VariesMoreThanPoisson => "failures come in clusters and units are few",
        _ => "failures come at regular times and units are few",
    }) + ".";

    /// <summary>Name of a test.</summary>
    /// <param name="kind">The test.</param>
    /// <returns>Its plain name.</returns>
    public static string Name(TrendTestKind kind) => kind switch
    {
        TrendTestKind.Laplace => "Laplace",
        TrendTestKind.LaplaceBetweenUnits => "Laplace with the spread between units",
        TrendTestKind.MilitaryHandbook => "MIL-HDBK-189",
        TrendTestKind.LewisRobinson => "Lewis–Robinson",
        TrendTestKind.MannKendall => "Mann–Kendall on monthly rates",
        _ => "Reverse arrangements",
    };

    /// <summary>What a test says.</summary>
    /// <param name="direction">Which way it points.</param>
    /// <param name="pValue">Its two-sided p-value.</param>
    /// <param name="level">Confidence level.</param>
    /// <returns>A few words.</returns>
    public static string Says(TrendDirection direction, double pValue, double level) => pValue >= 1 - level ? "may be chance"
        : direction == TrendDirection.Worsening ? "more often with time" : "less often with time";

    /// <summary>Whether the power law suits the records.</summary>
    /// <param name="goodness">Its test; null: not tested.</param>
    /// <returns>One sentence.</returns>
    public static string Fits(PowerLawGoodness? goodness) => goodness?.PAtMost is not { } most ? "Whether the curve suits the records could not be tested."
        : most <= 0.05 ? "The records do not follow the curve: read its shape with care."
        : most <= 0.10 ? "The records follow the curve only roughly."
        : "Nothing speaks against the curve.";

    private static string? Either(TrendChange change, string ahead)
    {
        string? worse = change.FewestToGettingWorse is { } fewest and > 0
            ? Text.Counted(fewest, "failure") + " or more " + ahead + " would show ‘getting worse’" : null;
        string? better = change.MostToGettingBetter is { } most ? "at most " + Text.Counted(most, "failure") + " would show ‘getting better’"
            : change.QuietUntilGettingBetter is { } quiet and > 0 ? Text.Counted((int)Math.Ceiling(quiet), "day") + " without any would show ‘getting better’" : null;
        return worse is null && better is null ? null : Text.Capital(string.Join("; ", new[] { worse, better }.Where(part => part is not null))) + ".";
    }
}
