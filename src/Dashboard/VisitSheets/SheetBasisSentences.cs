using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>What a visit sheet rests on and what a reader should mind, in sentences; page and API say the same.</summary>
public static class SheetBasisSentences
{
    /// <summary>Why no chance can be given for a position.</summary>
    public static string NoPartChange => Texts.NoPartChange;

    /// <summary>That the age of a part would change its causes by more than is believed.</summary>
    public static string AgeTenfold => Texts.AgeTenfold;

    private static SheetBasisTexts Texts => DiagnosisTexts.Now.Basis;

    /// <summary>The method.</summary>
    /// <param name="ofCauses">Whether causes are weighed; else only the wear of parts is told.</param>
    /// <returns>A clause.</returns>
    public static string Method(bool ofCauses) => ofCauses ? Texts.Causes : Texts.Wear;

    /// <summary>What the method counts, in the plural.</summary>
    /// <param name="ofCauses">Whether causes are weighed.</param>
    /// <returns>A few words.</returns>
    public static string Counted(bool ofCauses) => ofCauses ? Texts.CountedCauses : Texts.CountedWear;

    /// <summary>That the catalogue names no cause.</summary>
    /// <param name="fault">Code of the fault.</param>
    /// <returns>One sentence.</returns>
    public static string NoCause(string fault) => Fill.In(Texts.NoCause, ("fault", fault));

    /// <summary>That no visit has told what it found.</summary>
    /// <param name="fault">Code of the fault.</param>
    /// <returns>One sentence.</returns>
    public static string NoVisit(string fault) => Fill.In(Texts.NoVisit, ("fault", fault));

    /// <summary>That visits found what the catalogue does not list.</summary>
    /// <param name="outside">Those visits.</param>
    /// <param name="visits">Visits that told what they found.</param>
    /// <param name="fault">Code of the fault.</param>
    /// <returns>One sentence.</returns>
    public static string LacksACause(int outside, int visits, string fault) =>
        Texts.LacksACause.For(visits, ("found", Text.Count(outside)), ("fault", fault));

    /// <summary>That the length of repairs was assumed.</summary>
    /// <param name="parts">What is repaired.</param>
    /// <returns>One sentence.</returns>
    public static string RepairMinutes(IEnumerable<string> parts) => Fill.In(Texts.RepairMinutes, ("parts", string.Join(", ", parts)));

    /// <summary>That parts have no life curve.</summary>
    /// <param name="names">Names of their positions.</param>
    /// <returns>One sentence.</returns>
    public static string NoLifeCurve(IEnumerable<string> names) => Fill.In(Texts.NoLifeCurve, ("parts", string.Join(", ", names.Select(Text.Inside))));
}
