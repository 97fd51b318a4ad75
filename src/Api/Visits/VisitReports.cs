using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Repairs;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Assembles what a visit came to, and holds it against the other records of its unit.</summary>
/// <param name="registry">The registry.</param>
/// <param name="repairs">Judges repairs by the unit's own records.</param>
/// <param name="queries">Reads visits.</param>
/// <param name="photos">Reads photos.</param>
public sealed class VisitReports(RegistryCache registry, FleetRepairs repairs, VisitQueries queries, PhotoQueries photos)
{
    private const int RecentDays = 90;
    private const int RecentShown = 6;

    /// <summary>One visit.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <param name="source">Whose visit, where several sources use the key; null: the first that came.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The report; null when there is no such visit.</returns>
    public async Task<VisitReport?> AssembleAsync(string key, string? source, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (await queries.FindAsync(key, source, cancellationToken) is not { } visit
            || !snapshot.Cleaning.ById.TryGetValue(visit.UnitId, out UnitTerms? terms))
        {
            return null;
        }

        IReadOnlyList<VisitRow> others = await queries.OverlappingAsync(visit, cancellationToken);
        IReadOnlyList<PartRow> parts = await queries.PartsAsync(visit, cancellationToken);
        AskRow? ask = await queries.AskAsync(visit, cancellationToken);
        IReadOnlyDictionary<long, RepairVerdict> verdicts = await VerdictsAsync(
            terms, visit.ArrivedAt ?? visit.LeftAt ?? asOf, asOf, cancellationToken);
        IReadOnlyList<VisitPhoto> pictures = await photos.ListAsync(visit.Source, visit.Key, cancellationToken);
        IReadOnlyList<EarlierPhoto> earlier = await photos.EarlierAsync(await queries.EarlierAsync(visit, cancellationToken), pictures, cancellationToken);
        return Report(visit, terms, others, parts, Doubts(visit, others, terms, verdicts), ask, (pictures, earlier), asOf);
    }

    /// <summary>The latest visits to a unit that count, the latest first, each with what speaks against it.</summary>
    /// <param name="terms">The unit.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<VisitLink>> RecentAsync(UnitTerms terms, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyDictionary<long, RepairVerdict> verdicts = await VerdictsAsync(terms, asOf.AddDays(-RecentDays), asOf, cancellationToken);
        IReadOnlyList<VisitRow> visits = await queries.RecentAsync(terms.Unit.Id, asOf.AddDays(-RecentDays), RecentShown, cancellationToken);
        var links = new List<VisitLink>();
        foreach (VisitRow visit in visits)
        {
            IReadOnlyList<VisitRow> others = await queries.OverlappingAsync(visit, cancellationToken);
            links.Add(Link(visit, terms, Doubts(visit, others, terms, verdicts), await PhotosAsync(visit, cancellationToken)));
        }

        return links;
    }

    // What is known of each repair, by the number of its visit.
    private async Task<IReadOnlyDictionary<long, RepairVerdict>> VerdictsAsync(
        UnitTerms terms, DateTimeOffset since, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        (await repairs.JudgeAsync([terms], since, asOf, cancellationToken))
            .ToDictionary(repair => repair.Visit.Seq, repair => repair.Verdict);

    private async Task<int> PhotosAsync(VisitRow visit, CancellationToken cancellationToken)
    {
        IReadOnlyList<VisitRow> earlier = await queries.EarlierAsync(visit, cancellationToken);
        if (!earlier.Any(each => each.Photos > 0))
        {
            return visit.Photos;
        }

        IReadOnlyList<VisitPhoto> own = await photos.ListAsync(visit.Source, visit.Key, cancellationToken);
        return own.Count + (await photos.EarlierAsync(earlier, own, cancellationToken)).Count;
    }

    private static VisitReport Report(
        VisitRow visit,
        UnitTerms terms,
        IReadOnlyList<VisitRow> others,
        IReadOnlyList<PartRow> parts,
        IReadOnlyList<string> doubts,
        AskRow? ask,
        (IReadOnlyList<VisitPhoto> Own, IReadOnlyList<EarlierPhoto> Earlier) pictures,
        DateTimeOffset asOf)
    {
        UnitEntry unit = terms.Unit;
        ModelEntry model = unit.Model;
        string zone = unit.Site.Resource.TimeZone;
        ProofTaken[] proofs = [.. VisitRow.List<VisitProof>(visit.Proofs).Select(proof => Taken(proof, terms, visit.LeftAt ?? asOf))];
        return new VisitReport(
            new Basis(asOf, null, null, VisitSentences.Method, null, 1 + parts.Count, null, new Dictionary<string, int>(), doubts),
            visit.Key,
            visit.Source,
            unit.Resource.Unit,
            unit.Site.Resource.Site,
            unit.Site.Resource.Name,
            zone,
            Sentence(visit, model),
            Follows(visit, proofs, parts, doubts, terms),
            visit.AskedAt,
            visit.ArrivedAt,
            visit.LeftAt,
            visit.EndedAs,
            visit.Technician,
            visit.Note,
            [.. VisitRow.List<string>(visit.Faults).Select(code => model.Faults.GetValueOrDefault(code) is { } known ? known.Code + ": " + known.Text : code)],
            [.. VisitRow.List<VisitCheck>(visit.Checks).Select(check => Done(check, model))],
            [.. VisitRow.List<VisitFinding>(visit.Findings).Select(found => Found(found, model))],
            [.. parts.Select(part => Changed(part, model, zone))],
            [.. VisitRow.List<PartCondition>(visit.Conditions).Select(seen => VisitSentences.LookedAt(PositionName(model, seen.Position), Json.Name(seen.Grade.ToString())))],
            proofs,
            ask is null ? null : Asked(ask, zone),
            [.. others.Select(other => Link(other, terms, [], other.Photos))],
            pictures.Own,
            pictures.Earlier,
            visit.IsVoided,
            visit.ReceivedAt);
    }

    /// <summary>A visit in one line.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="terms">Its unit.</param>
    /// <param name="doubts">What speaks against it.</param>
    /// <param name="photos">Number of its photos.</param>
    internal static VisitLink Link(VisitRow visit, UnitTerms terms, IReadOnlyList<string> doubts, int photos) =>
        new(visit.Key, visit.Source, Sentence(visit, terms.Unit.Model), visit.ArrivedAt, photos, doubts);

    private static IReadOnlyList<string> Follows(
        VisitRow visit, IReadOnlyList<ProofTaken> proofs, IReadOnlyList<PartRow> parts, IReadOnlyList<string> doubts, UnitTerms terms) =>
    [
        .. new[]
        {
            visit is { ArrivedAt: null, LeftAt: null } ? VisitSentences.NobodyCameYet
                : visit.EndedAs == VisitOutcome.Proven && doubts.Count > 0
                ? VisitSentences.ProvenBut
                : visit.EndedAs == VisitOutcome.Proven && NotShown(visit, terms) is { Length: > 0 } lacking
                ? VisitSentences.ProvenWithout(lacking)
                : VisitSentences.Next(visit.EndedAs, [.. proofs.Where(proof => proof.Result != "pass").Select(proof => proof.Name)]),
        }.OfType<string>(),
        .. parts.Where(part => part.RemovedReason is "failed" or "found_failed")
            .Select(part => VisitSentences.CountsAsFailure(PositionName(terms.Unit.Model, part.Position))),
    ];

    // Names of the proofs that every repair needs and the visit does not have: a program may call proven what the form would not.
    private static string[] NotShown(VisitRow visit, UnitTerms terms) =>
    [
        .. ProofRules.Of(terms, visit.LeftAt ?? visit.ReceivedAt)
            .Where(proof => proof.Code is RepairEvidence.FullWash or RepairEvidence.HeatingCircuits && !visit.Passed(proof.Code)).Select(proof => proof.Name),
    ];

    private static string[] Doubts(
        VisitRow visit, IReadOnlyList<VisitRow> others, UnitTerms terms, IReadOnlyDictionary<long, RepairVerdict> verdicts)
    {
        string zone = terms.Unit.Site.Resource.TimeZone;
        string? contradiction = verdicts.TryGetValue(visit.Seq, out RepairVerdict? verdict)
            ? VisitSentences.Contradiction(verdict, visit.Passed(Proof.FullWash), zone)
            : null;
        return
        [
            .. others.Where(_ => !visit.IsVoided).Select(other => VisitSentences.Overlaps(other.Technician, other.ArrivedAt, zone)),
            .. new[] { contradiction }.OfType<string>(),
        ];
    }

    private static string Sentence(VisitRow visit, ModelEntry model) => HistorySentences.Visit(
        visit.Technician,
        visit.ArrivedAt is not null,
        visit.LeftAt is not null,
        (visit.ArrivedAt - visit.AskedAt)?.TotalHours,
        (visit.LeftAt - visit.ArrivedAt)?.TotalHours,
        visit.EndedAs,
        [.. VisitRow.List<VisitFinding>(visit.Findings).Select(found => PositionName(model, found.Position) + (found.FailureMode is null ? null : " (" + found.FailureMode + ")"))]);

    private static CheckDone Done(VisitCheck check, ModelEntry model) => new(
        check.Check,
        model.Resource.Faults.SelectMany(fault => fault.Checks ?? []).FirstOrDefault(known => known.Check.Equals(check.Check, StringComparison.OrdinalIgnoreCase))?.Text
            ?? check.Check,
        Json.Name(check.Result.ToString()),
        check.Reading,
        check.UnitOfMeasure);

    private static ProofTaken Taken(VisitProof proof, UnitTerms terms, DateTimeOffset at) => new(
        proof.Proof,
        ProofRules.Of(terms, at).FirstOrDefault(known => known.Code.Equals(proof.Proof, StringComparison.OrdinalIgnoreCase))?.Name
            ?? Text.Words(proof.Proof),
        Json.Name(proof.Result.ToString()));

    private static string Found(VisitFinding found, ModelEntry model) =>
        VisitSentences.Found(PositionName(model, found.Position), found.FailureMode, found.Cause, found.Note);

    private static string Changed(PartRow part, ModelEntry model, string zone) => VisitSentences.PartChange(
        PositionName(model, part.Position),
        part.RemovedReason,
        part.FailureMode,
        part.LastSeenGoodAt is null ? null : Text.Date(part.LastSeenGoodAt, zone),
        part.Fitted,
        part.PartNumber,
        part.Batch);

    private static VisitAsk Asked(AskRow ask, string zone) => new(ask.What, ask.Amount, VisitSentences.Asked(
        ask.What,
        ask.Amount,
        ask.Decision is null ? null : ask.Decision == "granted",
        ask.DecidedBy,
        ask.DecidedAt,
        zone,
        ask.IsWithdrawn));

    private static string PositionName(ModelEntry model, string code) => model.Positions.GetValueOrDefault(code)?.Name ?? code;
}
