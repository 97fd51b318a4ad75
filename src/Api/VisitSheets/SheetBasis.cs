using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>What a sheet rests on, and what a reader should mind.</summary>
internal static class SheetBasis
{
    private const string Wear = "chance to fail by the fleet's Weibull fit of the position, given the age now";

    private const string Diagnosis = "probabilities by Bayes' rule for exactly one present cause: prior weights of the catalogue plus closed visits of "
        + "the fleet for this fault (Dirichlet; a visit whose repair was not proven counts half), times the hazard of the fitted part over the fleet's mean; the next "
        + "check is the one with the least mean minutes until the fault is mended; " + Wear;

    /// <summary>The basis.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="fault">The fault that the sheet is for.</param>
    /// <param name="diagnosed">The diagnosis.</param>
    /// <param name="fitted">What is fitted.</param>
    public static Basis Of(DateTimeOffset asOf, SheetFault? fault, Diagnosed? diagnosed, IReadOnlyList<SheetPart> fitted)
    {
        SheetDiagnosis? figures = diagnosed?.Figures;
        return new Basis(
            asOf, null, null, figures is null ? Wear : Diagnosis, "days",
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
                yield return "The catalogue names no cause for " + fault.Code
                    + ": no probabilities can be given, and checks stand in its order.";
            }

            yield break;
        }

        if (figures.Visits == 0)
        {
            yield return "No closed visit of the fleet for " + told.Fault.Code
                + " has told what it found: probabilities rest on the catalogue and the age of parts alone.";
        }
        else if (told.Weighing.OutsideCatalogue * 10 > figures.Visits)
        {
            yield return Text.Count(told.Weighing.OutsideCatalogue) + " of " + Text.Counted(figures.Visits, "earlier visit")
                + " found what the catalogue of "
                + told.Fault.Code + " does not list: it lacks a cause.";
        }

        if (told.Weighing.Causes.Any(cause => cause.HazardFactorCut))
        {
            yield return "The age of a part would change its causes more than tenfold; it is taken tenfold.";
        }

        if (told.WithoutMinutes.Any())
        {
            yield return "How long a repair takes is not on record for " + string.Join(", ", told.WithoutMinutes) + "; 30 min are taken.";
        }
    }

    private static IEnumerable<string> OfWear(IReadOnlyList<SheetPart> fitted)
    {
        string[] without = [.. fitted.Where(part => part.HalfFailedByDays is null).Select(part => part.Name.ToLowerInvariant())];
        if (without.Length > 0)
        {
            yield return "Too few failures on record for a life curve of: " + string.Join(", ", without) + ".";
        }
    }
}
