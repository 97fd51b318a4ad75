using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>What a sheet rests on, and what a reader should mind.</summary>
internal static class SheetBasis
{
    /// <summary>The basis.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="fault">The fault that the sheet is for.</param>
    /// <param name="diagnosed">The diagnosis.</param>
    /// <param name="fitted">What is fitted.</param>
    public static Basis Of(DateTimeOffset asOf, SheetFault? fault, Diagnosed? diagnosed, IReadOnlyList<SheetPart> fitted)
    {
        SheetDiagnosis? figures = diagnosed?.Figures;
        return new Basis(
            asOf, null, null, SheetBasisSentences.Method(figures is not null), "days",
            figures?.Visits ?? fitted.Count(part => part.ChanceToFail90Days is not null), null,
            figures is { VisitsWithoutFinding: > 0 }
                ? new Dictionary<string, int> { ["visits_that_told_no_finding"] = figures.VisitsWithoutFinding }
                : [],
            [.. OfFault(fault, diagnosed), .. OfWear(fitted)]);
    }

    private static IEnumerable<string> OfFault(SheetFault? fault, Diagnosed? diagnosed)
    {
        if (diagnosed is not { Case: var told, Figures: var figures })
        {
            if (fault?.Meaning is not null)
            {
                yield return SheetBasisSentences.NoCause(fault.Code);
            }

            yield break;
        }

        if (figures.Visits == 0)
        {
            yield return SheetBasisSentences.NoVisit(told.Fault.Code);
        }
        else if (told.Weighing.OutsideCatalogue * 10 > figures.Visits)
        {
            yield return SheetBasisSentences.LacksACause(told.Weighing.OutsideCatalogue, figures.Visits, told.Fault.Code);
        }

        if (told.Weighing.Causes.Any(cause => cause.HazardFactorCut))
        {
            yield return SheetBasisSentences.AgeTenfold;
        }

        if (told.WithoutMinutes.Any())
        {
            yield return SheetBasisSentences.RepairMinutes(told.WithoutMinutes);
        }
    }

    private static IEnumerable<string> OfWear(IReadOnlyList<SheetPart> fitted)
    {
        string[] without = [.. fitted.Where(part => part.HalfFailedByDays is null).Select(part => part.Name)];
        if (without.Length > 0)
        {
            yield return SheetBasisSentences.NoLifeCurve(without);
        }
    }
}
