using Washwear.Analytics.Cleaning;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>What a unit's diagnosis rests on.</summary>
/// <param name="Lives">Its part lives.</param>
/// <param name="Models">The fleet's fits.</param>
/// <param name="Fitted">What is fitted.</param>
/// <param name="Visits">Its visits, newest first.</param>
internal sealed record UnitParts(
    IReadOnlyList<FleetLife> Lives, FittedParts Models, IReadOnlyList<SheetPart> Fitted, IReadOnlyList<VisitToUnit> Visits);

/// <summary>Diagnoses faults at a unit: for its visit sheet, and for the form that closes the visit.</summary>
/// <param name="fleet">Reads part lives.</param>
/// <param name="wear">The fleet's fits.</param>
/// <param name="findings">What earlier visits of the fleet found.</param>
/// <param name="queries">Reads visits.</param>
public sealed class UnitDiagnoses(FleetLives fleet, FleetWear wear, CauseFindings findings, VisitSheetQueries queries)
{
    /// <summary>What the diagnoses of a unit rest on.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    internal async Task<UnitParts> PartsAsync(UnitEntry unit, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<FleetLife> lives = await fleet.LoadAsync(null, asOf, cancellationToken, unit.Id);
        FittedParts models = (await wear.CurrentAsync(asOf, cancellationToken)).Models;
        return new UnitParts(
            lives, models, FittedNow.Of(unit, lives, models), await queries.VisitsAsync(unit.Id, asOf, cancellationToken));
    }

    /// <summary>What a fault is likely to come from and what to check next.</summary>
    /// <param name="snapshot">The registry.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="history">Its records.</param>
    /// <param name="parts">What it rests on.</param>
    /// <param name="fault">The fault as the catalogue gives it.</param>
    /// <param name="question">Results so far, their checks spelled as the catalogue does.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The diagnosis; null: the catalogue names no cause.</returns>
    internal async Task<Diagnosed?> OfAsync(
        RegistrySnapshot snapshot, UnitEntry unit, UnitHistory history, UnitParts parts, FaultResource fault, SheetQuestion question,
        DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        if (FaultCase.Of(
            unit.Model, fault, await findings.OfAsync(snapshot, fault, asOf, cancellationToken), parts.Lives, parts.Models) is not { } told)
        {
            return null;
        }

        IReadOnlyList<EarlierVisit> earlier = EarlierVisits.Of(fault, history, parts.Visits, parts.Lives, asOf);
        return Diagnoses.Of(
            told, question, new ToldEarlier(fault, earlier, question.Results), parts.Fitted, unit.Site.Resource.TimeZone);
    }
}
