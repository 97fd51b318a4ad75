using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Api.VisitSheets;
using Washwear.Dashboard.VisitSheets;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Assembles the form that closes a visit.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">Reads open faults.</param>
/// <param name="fleet">Reads what is fitted.</param>
/// <param name="queries">Reads visits.</param>
/// <param name="sequence">Orders the checks.</param>
public sealed class CloseOutReports(
    RegistryCache registry, CleaningQueries cleaning, FleetLives fleet, VisitQueries queries, CheckSequence sequence)
{
    private static readonly TimeSpan Recently = TimeSpan.FromHours(12);

    /// <summary>A fresh form.</summary>
    /// <param name="code">Asset tag of the unit.</param>
    /// <param name="question">Fault that the visit is for, else those that are open; and results that were told already.</param>
    /// <param name="reader">Who is signed in, and whether records may be sent.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The form; null when there is no such unit.</returns>
    /// <exception cref="UnknownOnSheetException">A result is of a check that the model does not have.</exception>
    public async Task<CloseOutReport?> AssembleAsync(
        string code, SheetQuestion question, Reader reader, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        (await registry.CurrentAsync(cancellationToken)) is var snapshot && snapshot.Units.TryGetValue(code, out UnitEntry? unit)
            ? await FillAsync(snapshot, unit, null, [], SheetQuestions.OfModel(question, unit.Model), reader, asOf, cancellationToken)
            : null;

    /// <summary>The form with what a close-out recorded, to be corrected.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="reader">Who is signed in, and whether records may be sent.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The form; null when its unit has gone.</returns>
    public async Task<CloseOutReport?> CorrectAsync(VisitRow visit, Reader reader, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Cleaning.ById.TryGetValue(visit.UnitId, out UnitTerms? terms))
        {
            return null;
        }

        IReadOnlyList<SentRecord> sent = await queries.SentAsync(visit.Key, visit.Source, cancellationToken);
        CloseOutValues values = CloseOutCorrection.Values(
            visit,
            await queries.PartsAsync(visit, cancellationToken),
            [.. sent.Where(one => one.VoidedBy is null).Select(one => one.Code).OfType<string>()],
            await queries.AskAsync(visit, cancellationToken),
            terms.Unit,
            Guid.CreateVersion7(asOf).ToString());
        return await FillAsync(snapshot, terms.Unit, values, [], SheetQuestion.Usual, reader, asOf, cancellationToken);
    }

    /// <summary>The form again, with what was entered and what is wrong with it.</summary>
    /// <param name="values">What was entered.</param>
    /// <param name="problems">What is wrong.</param>
    /// <param name="reader">Who is signed in, and whether records may be sent.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The form; null when there is no such unit.</returns>
    public async Task<CloseOutReport?> AssembleAsync(
        CloseOutValues values, IReadOnlyList<CloseOutProblem> problems, Reader reader, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        (await registry.CurrentAsync(cancellationToken)) is var snapshot
            && snapshot.Units.TryGetValue(values.Of(CloseOutFields.Unit) ?? string.Empty, out UnitEntry? unit)
            ? await FillAsync(snapshot, unit, values, problems, SheetQuestion.Usual, reader, asOf, cancellationToken)
            : null;

    private async Task<CloseOutReport> FillAsync(
        RegistrySnapshot snapshot,
        UnitEntry unit,
        CloseOutValues? entered,
        IReadOnlyList<CloseOutProblem> problems,
        SheetQuestion question,
        Reader reader,
        DateTimeOffset asOf,
        CancellationToken cancellationToken)
    {
        UnitTerms terms = snapshot.Cleaning.ById[unit.Id];
        UnitHistory history = (await cleaning.HistoriesAsync([terms], asOf, cancellationToken))[unit.Id];
        CloseOutFault[] faults = [.. Faults(unit.Model, history, [.. entered?.All(CloseOutFields.Fault) ?? [], question.Fault])];
        CloseOutValues values = entered
            ?? Begin(unit, faults, question, reader, asOf, await queries.AskedAsync(unit.Id, asOf, cancellationToken));
        IReadOnlyList<string> chosen = values.All(CloseOutFields.Fault);
        OrderedChecks checks = await sequence.ForAsync(
            snapshot, unit, history, chosen, Results(unit.Model, values), asOf, cancellationToken);
        return new CloseOutReport(
            unit.Resource.Unit,
            unit.Resource.Serial,
            unit.Site.Resource.Site,
            unit.Site.Resource.Name,
            unit.Model.Resource.Name,
            unit.Site.Resource.TimeZone,
            reader.Name,
            reader.MaySend,
            values.Of(CloseOutFields.Key)!,
            faults,
            checks.Checks,
            checks.WhyFirst,
            [.. Causes(unit.Model, chosen)],
            [.. await PartsAsync(unit, asOf, cancellationToken)],
            ProofRules.Of(terms, asOf),
            values,
            problems,
            values.Of(CloseOutFields.Corrects) is null ? await LatestAsync(terms, asOf, cancellationToken) : null);
    }

    private async Task<VisitLink?> LatestAsync(UnitTerms terms, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        await queries.RecentAsync(terms.Unit.Id, asOf - Recently, 1, cancellationToken) is [{ LeftAt: not null } visit] ? VisitReports.Link(visit, terms, [], visit.Photos) : null;

    private static CloseOutValues Begin(
        UnitEntry unit, IReadOnlyList<CloseOutFault> faults, SheetQuestion question, Reader reader, DateTimeOffset asOf, AskedVisit? asked)
    {
        string[] chosen = question.Fault is not { } fault
            ? [.. faults.Where(each => each.OpenSince is not null).Select(each => each.Code)]
            : [.. faults.Where(each => each.Code.Equals(fault, StringComparison.OrdinalIgnoreCase)).Select(each => each.Code)];
        var fields = new Dictionary<string, IReadOnlyList<string>>
        {
            [CloseOutFields.Key] = [Guid.CreateVersion7(asOf).ToString()],
            [CloseOutFields.Arrived] = [SiteTime.Of(asOf, unit.Site.Zone)],
            [CloseOutFields.Technician] = [reader.Name],
            [CloseOutFields.Fault] = chosen,
        };
        foreach (CheckAnswer told in question.Results.Where(told => told.Result != SheetResult.NotDone))
        {
            fields[CloseOutFields.CheckResult(told.Check)] = [told.Result == SheetResult.Pass ? "pass" : "fail"];
        }

        if (asked is not null)
        {
            fields[CloseOutFields.Asked] = [SiteTime.Of(asked.AskedAt, unit.Site.Zone)];
            if (asked.Source == reader.Name)
            {
                fields[CloseOutFields.Replaces] = [asked.Key];
            }
        }

        return new CloseOutValues(fields);
    }

    private static CheckAnswer[] Results(ModelEntry model, CloseOutValues values) =>
    [
        .. model.Resource.Faults.SelectMany(fault => fault.Checks ?? []).Select(check => check.Check).Distinct()
            .Select(check => (Check: check, Result: values.Of(CloseOutFields.CheckResult(check))))
            .Where(pair => pair.Result is "pass" or "fail")
            .Select(pair => new CheckAnswer(pair.Check, pair.Result == "pass" ? SheetResult.Pass : SheetResult.Fail)),
    ];

    /// <summary>Faults that a form may name: those of the catalogue, and others that are open or asked for; those that are open first.</summary>
    /// <param name="model">The model.</param>
    /// <param name="history">What happened at the unit.</param>
    /// <param name="asked">Codes asked for.</param>
    internal static IEnumerable<CloseOutFault> Faults(ModelEntry model, UnitHistory history, IEnumerable<string?> asked)
    {
        Dictionary<string, DateTimeOffset> open = history.Faults.Where(fault => fault.ClearedAt is null)
            .GroupBy(fault => model.Faults.GetValueOrDefault(fault.Code)?.Code ?? fault.Code, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(group => group.Key, group => group.Min(fault => fault.RaisedAt).ToDateTimeOffset(), StringComparer.OrdinalIgnoreCase);
        IEnumerable<string> uncatalogued = open.Keys.Concat(asked).OfType<string>().Distinct(StringComparer.OrdinalIgnoreCase)
            .Where(code => Codes.IsValid(code) && !model.Faults.ContainsKey(code));
        return model.Resource.Faults.Select(fault => new CloseOutFault(fault.Code, fault.Text, Since(fault.Code)))
            .Concat(uncatalogued.Select(code => new CloseOutFault(code, code, Since(code))))
            .OrderBy(fault => fault.OpenSince is null);

        DateTimeOffset? Since(string code) => open.TryGetValue(code, out DateTimeOffset since) ? since : null;
    }

    private static IEnumerable<CloseOutCause> Causes(ModelEntry model, IReadOnlyList<string> chosen) => model.Resource.Faults
        .SelectMany(fault => (fault.Causes ?? []).Select(cause => (Cause: cause, IsForThis: chosen.Contains(fault.Code, StringComparer.OrdinalIgnoreCase))))
        .GroupBy(pair => (pair.Cause.Position, pair.Cause.FailureMode, pair.Cause.Cause))
        .Select(group => new CloseOutCause(
            group.Key.Position,
            model.Positions.GetValueOrDefault(group.Key.Position)?.Name ?? group.Key.Position,
            group.Key.FailureMode,
            group.Key.Cause,
            group.Any(pair => pair.IsForThis)))
        .OrderByDescending(cause => cause.IsForThis);

    private async Task<IEnumerable<CloseOutPart>> PartsAsync(UnitEntry unit, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Dictionary<string, FleetLife> fitted = (await fleet.LoadAsync(null, asOf, cancellationToken, unit.Id, daysOnly: true))
            .Where(life => life.StillFitted)
            .GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(group => group.Key, group => group.MaxBy(life => life.Ordinal)!, StringComparer.OrdinalIgnoreCase);
        ILookup<string, DateTimeOffset> looks = await queries.LooksAsync(unit.Id, asOf, cancellationToken);
        return unit.Model.Resource.Positions.Select(position =>
        {
            FleetLife? life = fitted.GetValueOrDefault(position.Position);
            DateTimeOffset? seen = looks[Codes.Key(position.Position)].Where(at => !(at < life?.FittedAt)).Cast<DateTimeOffset?>().Max();
            return new CloseOutPart(
                position.Position,
                position.Name,
                position.FailureModes ?? [],
                position.PartNumbers ?? [],
                life?.PartNumber,
                life?.FittedAt,
                life is not null && life.Ages.TryGetValue(LifeClock.Days, out LifeAges ages) ? ages.End : null,
                seen);
        });
    }
}

/// <summary>Who reads a form of visits.</summary>
/// <param name="Name">Name of the key behind the sign-in.</param>
/// <param name="MaySend">Whether that key may send records.</param>
public sealed record Reader(string Name, bool MaySend);
