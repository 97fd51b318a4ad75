using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What most failures come from, in one sentence.</summary>
public static class ParetoSentences
{
    private const double Level = 0.05;

    /// <summary>A mode or cause that nobody named.</summary>
    public static string NotNamed => Texts.NotNamed;

    private static FailureParetoTexts Texts => FailureParetoTexts.Now;

    /// <summary>What the answer is worked out by, for its basis.</summary>
    /// <param name="by">What is counted.</param>
    /// <returns>A few words.</returns>
    public static string Method(ParetoGroup by) => Texts.MethodNames[by];

    /// <summary>The finding.</summary>
    /// <param name="rows">The rows, most first.</param>
    /// <param name="choice">What the reader chose.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(IReadOnlyList<ParetoRow> rows, FailureChoice choice)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(choice);
        if (rows.Count == 0)
        {
            return choice.Pareto == ParetoGroup.Code ? Texts.NoFault : Texts.NoPart;
        }

        if (rows.Sum(row => Measured(row, choice.Measure)) <= 0)
        {
            return Texts.NoneCost[choice.Measure].For(rows.Sum(row => row.Count));
        }

        int half = rows.TakeWhile(row => row.CumulativeShare < 0.5).Count() + 1;
        (string Name, string Value)[] first = [("name", rows[0].Name), ("share", Text.Share(rows[0].Share)), ("of_all", Texts.OfAll[choice.Measure])];
        string most = half == 1
            ? Fill.In(Texts.Alone, first)
            : Fill.In(
                Texts.Several,
                [
                    .. first, ("some", Text.Count(half)), ("all", Text.Count(rows.Count)), ("kinds", Texts.Kinds[choice.Pareto]),
                    ("sum", Text.Share(rows[Math.Min(half, rows.Count) - 1].CumulativeShare)),
                ]);
        return Changed(rows) is { } changed ? most + " " + changed : most;
    }

    /// <summary>What a row has of a measure.</summary>
    /// <param name="row">The row.</param>
    /// <param name="measure">The measure.</param>
    /// <returns>0 or more.</returns>
    public static double Measured(ParetoRow row, ParetoMeasure measure)
    {
        ArgumentNullException.ThrowIfNull(row);
        return measure switch
        {
            ParetoMeasure.LockedOutHours => row.LockedOutHours,
            ParetoMeasure.UnwashedDays => row.UnwashedDays,
            _ => row.Count,
        };
    }

    /// <summary>What share and change are, told of the first row.</summary>
    /// <param name="report">The report.</param>
    /// <returns>One or two sentences; null where there is no row with a share.</returns>
    public static string? Here(ParetoReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (FailureParetoChart.Drawn(report) is not [{ } row, ..])
        {
            return null;
        }

        string share = Fill.In(
            Texts.ShareHere,
            ("name", row.Name), ("share", Text.Share(row.Share)), ("sum", Text.Share(row.CumulativeShare)), ("of_all", Texts.Chart.OfAll[report.Measure]));
        return row is { Change: { } change, AdjustedPValue: { } p }
            ? share + " " + Fill.In(
                Texts.ChangeHere,
                ("now", Text.Count(row.Count)), ("before", Text.Count(row.EarlierCount)), ("change", Text.Estimated(change)), ("p", Text.PValue(p)))
            : share;
    }

    private static string? Changed(IReadOnlyList<ParetoRow> rows)
    {
        ParetoRow[] more = [.. rows.Where(row => row.AdjustedPValue <= Level && (row.Change is null ? row.EarlierCount == 0 : row.Change.Value > 1))];
        return more.Length == 0 ? null : Fill.In(Texts.ClearlyMore, ("rows", string.Join(", ", more.Take(3).Select(row => Fill.In(
            Texts.ThenAndNow, ("name", row.Name), ("then", Text.Count(row.EarlierCount)), ("now", Text.Count(row.Count)))))));
    }
}
