namespace Washwear.Dashboard.VisitSheets;

/// <summary>How much of a visit sheet goes on its one sheet of paper. The screen shows all of it, and paper says how many causes, checks and parts it leaves out:
/// never a caution, a proof, a part to bring, or a check before those that are least likely to be needed.</summary>
/// <param name="Causes">Causes, the most likely first.</param>
/// <param name="Checks">Checks, in their order.</param>
/// <param name="Earlier">What earlier visits told of the same trouble, the latest.</param>
/// <param name="Worth">Parts worth swapping while it is open.</param>
/// <param name="LeftOpen">What earlier visits left to be done.</param>
/// <param name="Fitted">Parts that are fitted, those most likely to fail.</param>
/// <param name="Washes">Last washes.</param>
/// <param name="Visits">Last visits.</param>
/// <param name="Setting">How close letters and lines stand, and whether reasons are left to the screen.</param>
internal sealed record SheetPaper(int Causes, int Checks, int Earlier, int Worth, int LeftOpen, int Fitted, int Washes, int Visits, SheetSetting Setting)
{
    // Lines of text, as a column of the sheet takes them, up to which a sheet is set as usual, and above which reasons are left to the screen.
    private const int FewLines = 62;
    private const int ManyLines = 78;

    private static readonly SheetPaper Usual = new(5, 8, 2, 4, 3, 9, 4, 2, SheetSetting.Usual);
    private static readonly SheetPaper Dense = Usual with { Washes = 3, Setting = SheetSetting.Dense };
    private static readonly SheetPaper Bare = new(4, 7, 1, 3, 2, 6, 2, 1, SheetSetting.Bare);

    /// <summary>What goes on paper, by how much there is.</summary>
    /// <param name="report">The sheet.</param>
    internal static SheetPaper Of(VisitSheetReport report)
    {
        int lines = (3 * Math.Min(report.Diagnosis?.Causes.Count ?? 0, Usual.Causes))
            + (3 * Math.Min(report.Diagnosis?.Earlier.Count ?? 0, Usual.Earlier))
            + (3 * report.Cautions.Count)
            + (2 * Math.Min(report.Checks.Count, Usual.Checks))
            + report.Bring.Parts.Count
            + (4 * Math.Min(report.Bring.Worth.Count, Usual.Worth))
            + (2 * Math.Min(report.Recommendations.Count, Usual.LeftOpen))
            + report.Fitted.Take(Usual.Fitted).Sum(part => part.ChanceToFail90Days is null ? 2 : 1)
            + (2 * report.Proofs.Count)
            + report.AlsoOpen.Count
            + (2 * report.Basis.Doubts.Count);
        return lines switch
        {
            > ManyLines => Bare,
            > FewLines => Dense,
            _ => Usual,
        };
    }
}

/// <summary>How close a sheet of paper is set.</summary>
internal enum SheetSetting
{
    /// <summary>As usual.</summary>
    Usual,

    /// <summary>Smaller letters and less between them.</summary>
    Dense,

    /// <summary>The same, without reasons.</summary>
    Bare,
}
