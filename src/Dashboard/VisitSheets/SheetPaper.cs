namespace Washwear.Dashboard.VisitSheets;

/// <summary>How much of a visit sheet goes on its one sheet of paper. The screen shows all of it, and paper says how much it leaves out: never a caution, a proof,
/// a part to bring, or a check before those that are least likely to be needed.</summary>
/// <param name="Washes">Last washes.</param>
/// <param name="Visits">Last visits.</param>
/// <param name="Class">Class of the sheet, which says how close letters and lines stand and whether reasons are left to the screen.</param>
internal sealed record SheetPaper(int Washes, int Visits, string Class)
{
    internal const int Causes = 5;
    internal const int Checks = 8;
    internal const int Worth = 4;
    internal const int LeftOpen = 3;
    internal const int Fitted = 9;

    // Earlier visits of the same trouble; the latest ones.
    internal const int Earlier = 2;

    // Lines of text, as a column of the sheet takes them.
    private const int Usual = 62;
    private const int Dense = 80;

    /// <summary>What fits, by how much else there is.</summary>
    /// <param name="report">The sheet.</param>
    internal static SheetPaper Of(VisitSheetReport report)
    {
        int lines = (3 * Math.Min(report.Diagnosis?.Causes.Count ?? 0, Causes))
            + (3 * Math.Min(report.Diagnosis?.Earlier.Count ?? 0, Earlier))
            + (3 * report.Cautions.Count)
            + (2 * Math.Min(report.Checks.Count, Checks))
            + report.Bring.Parts.Count
            + (4 * Math.Min(report.Bring.Worth.Count, Worth))
            + (2 * Math.Min(report.Recommendations.Count, LeftOpen))
            + Math.Min(report.Fitted.Count, Fitted)
            + (2 * report.Proofs.Count)
            + report.AlsoOpen.Count;
        return lines switch
        {
            > Dense => new(2, 1, "sheet sheet-dense sheet-bare"),
            > Usual => new(3, 2, "sheet sheet-dense"),
            _ => new(4, 2, "sheet"),
        };
    }
}
