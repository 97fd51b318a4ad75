using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Planning;
using Washwear.Api.Registry;
using Washwear.Api.Visits;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>Assembles visit sheets.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">Reads records on cleaning.</param>
/// <param name="diagnoses">Diagnoses faults.</param>
/// <param name="queries">Reads washes and looks.</param>
/// <param name="companions">Past which ages parts are worth swapping along.</param>
internal sealed class VisitSheetReports(
    RegistryCache registry, CleaningQueries cleaning, UnitDiagnoses diagnoses, VisitSheetQueries queries, CompanionAges companions)
{
    private const int VisitsShown = 3;

    /// <summary>The sheet of one unit.</summary>
    /// <param name="code">Asset tag.</param>
    /// <param name="question">What is asked.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The sheet; null when there is no such unit.</returns>
    /// <exception cref="UnknownOnSheetException">The question names a fault or a check that this unit has not.</exception>
    public async Task<VisitSheetReport?> AssembleAsync(
        string code, SheetQuestion question, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Units.TryGetValue(code, out UnitEntry? unit))
        {
            return null;
        }

        UnitTerms terms = snapshot.Cleaning.ById[unit.Id];
        UnitHistory history = (await cleaning.HistoriesAsync([terms], asOf, cancellationToken))[unit.Id];
        SheetFault? fault = FaultChoice.Of(unit, history, question.Fault, asOf);
        FaultResource? known = fault is null ? null : unit.Model.Faults.GetValueOrDefault(fault.Code);
        question = SheetQuestions.Spelled(question, unit, fault, known);
        UnitParts parts = await diagnoses.PartsAsync(unit, asOf, cancellationToken);
        (IReadOnlyList<SheetPart> fitted, IReadOnlyList<VisitToUnit> visits) = (parts.Fitted, parts.Visits);
        Diagnosed? diagnosed = known is null ? null
            : await diagnoses.OfAsync(snapshot, unit, history, parts, known, question, asOf, cancellationToken);
        string timeZone = unit.Site.Resource.TimeZone;
        IReadOnlyList<OpenRecommendation> open = OpenRecommendations.Of(
            unit.Model, visits, await queries.ConditionsAsync(unit.Id, asOf, cancellationToken), parts.Lives, timeZone);
        VisitSheetReport report = Report(terms, history, fault, question, asOf) with
        {
            Basis = SheetBasis.Of(asOf, fault, diagnosed, fitted),
            Recommendations = open,
            Washes = LastWashes.Of(await queries.WashesAsync(unit.Id, asOf, LastWashes.Read, cancellationToken), timeZone),
            Visits = [.. visits.Take(VisitsShown).Select(visit => Visit(visit, unit.Model, asOf)).OfType<SheetVisit>()],
            Fitted = fitted,
            Diagnosis = diagnosed?.Figures,
            Bring = BringList.Of(
                unit.Model, diagnosed, fitted, open, await companions.OfAsync(unit.Model, asOf, cancellationToken), timeZone),
        };
        return WithChecks(report, diagnosed?.Checks ?? Undiagnosed(unit.Model, known, question));
    }

    private static VisitSheetReport WithChecks(VisitSheetReport report, IReadOnlyList<SheetCheck> checks) => report with
    {
        Checks = checks,
        Cautions = SafetyCautions.For([.. checks.Select(check => (check.Check, check.Hazards))]),
    };

    // What registry and state tell; the rest is filled in by the caller.
    private static VisitSheetReport Report(UnitTerms terms, UnitHistory history, SheetFault? fault, SheetQuestion question,
        DateTimeOffset asOf)
    {
        UnitEntry unit = terms.Unit;
        SiteEntry site = unit.Site;
        UnitCleaning[] rows = [.. CleaningReports.Status(terms, history, asOf).OrderBy(row => CleaningReports.UrgencyOf(row.State))];
        return new VisitSheetReport(
            new Basis(asOf, null, null, string.Empty, null, 0, null, new Dictionary<string, int>(), []),
            unit.Resource.Unit,
            unit.Resource.Serial,
            site.Resource.Site,
            site.Resource.Name,
            site.Operator.Resource.Name,
            unit.Model.Resource.Model,
            unit.Model.Resource.Name,
            site.Resource.TimeZone,
            VisitSheetSentences.Purpose(rows.FirstOrDefault(), fault, asOf),
            question,
            rows,
            fault,
            FaultChoice.AlsoOpen(unit, history, fault, asOf),
            [],
            [],
            [],
            [],
            null,
            [],
            BringList.Nothing,
            ProofRules.Of(terms, asOf),
            [],
            SafetyCautions.Deferral);
    }

    // Without causes nothing orders the checks: they stand as the catalogue lists them.
    private static SheetCheck[] Undiagnosed(ModelEntry model, FaultResource? known, SheetQuestion question) =>
    [
        .. (known?.Checks ?? []).Select(check => new SheetCheck(
            check.Check,
            check.Text,
            check.Minutes,
            [.. check.Positions.Select(position => model.Positions.GetValueOrDefault(position)?.Name ?? position)],
            check.Hazards ?? [],
            question.Results.FirstOrDefault(result => result.Check == check.Check)?.Result,
            true,
            null,
            null,
            null)),
    ];

    private static SheetVisit? Visit(VisitToUnit visit, ModelEntry model, DateTimeOffset asOf)
    {
        if (visit.ArrivedAt is not { } arrived)
        {
            return visit.AskedAt is { } asked && visit.LeftAt is null ? new SheetVisit(asked, VisitSheetSentences.Asked(asked, asOf))
                : null;
        }

        VisitFinding[] found = visit.Findings is null ? [] : JsonSerializer.Deserialize<VisitFinding[]>(visit.Findings, Json.Options)!;
        return new SheetVisit(arrived, HistorySentences.Visit(
            visit.Technician,
            true,
            visit.LeftAt is not null,
            (arrived - visit.AskedAt)?.TotalHours,
            (visit.LeftAt - arrived)?.TotalHours,
            visit.EndedAs,
            [.. found.Select(one => VisitSheetSentences.Finding(model.Positions.GetValueOrDefault(one.Position)?.Name ?? one.Position,
                one.FailureMode))]));
    }
}
