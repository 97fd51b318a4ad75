using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What most failures come from, in one sentence.</summary>
public static class ParetoSentences
{
    private const double Level = 0.05;

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
            return choice.Pareto == ParetoGroup.Code ? "No fault was raised in this time." : "No part failed in this time.";
        }

        string measure = Measure(choice.Measure);
        if (rows.Sum(row => Measured(row, choice.Measure)) <= 0)
        {
            return "None of the " + Text.Counted(rows.Sum(row => row.Count), "failure") + " cost any " + measure + ".";
        }

        int half = rows.TakeWhile(row => row.CumulativeShare < 0.5).Count() + 1;
        string most = half == 1
            ? "‘" + rows[0].Name + "’ alone brings " + Text.Share(rows[0].Share) + " of all " + measure
            : Text.Count(half) + " of " + Text.Count(rows.Count) + " bring " + Text.Share(rows[Math.Min(half, rows.Count) - 1].CumulativeShare) + " of all "
                + measure + "; ‘" + rows[0].Name + "’ brings most, " + Text.Share(rows[0].Share);
        return most + "." + Changed(rows);
    }

    /// <summary>What a measure is called.</summary>
    /// <param name="measure">The measure.</param>
    /// <returns>A noun in the plural.</returns>
    public static string Measure(ParetoMeasure measure) => measure switch
    {
        ParetoMeasure.LockedOutHours => "hours locked out of washing",
        ParetoMeasure.UnwashedDays => "days without a wash",
        _ => "failures",
    };

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

    private static string Changed(IReadOnlyList<ParetoRow> rows)
    {
        ParetoRow[] more = [.. rows.Where(row => row.AdjustedPValue <= Level && (row.Change is null ? row.EarlierCount == 0 : row.Change.Value > 1))];
        return more.Length == 0 ? string.Empty
            : " Clearly more than in the period before: " + string.Join(", ", more.Take(3).Select(row =>
                "‘" + row.Name + "’ (" + Text.Count(row.EarlierCount) + " then, " + Text.Count(row.Count) + " now)")) + ".";
    }
}
