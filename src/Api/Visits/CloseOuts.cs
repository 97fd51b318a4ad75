using System.Buffers;
using System.IO.Pipelines;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>What became of a close-out.</summary>
/// <param name="Outcome">saved, already_saved or refused.</param>
/// <param name="Key">Key of the close-out.</param>
/// <param name="Problems">Why it was refused, by field of the form.</param>
/// <param name="Doubts">What was taken in but looks wrong.</param>
public sealed record CloseOutResult(
    string Outcome, string Key, IReadOnlyList<CloseOutProblem> Problems, IReadOnlyList<CloseOutProblem> Doubts)
{
    /// <summary>Whether nothing was saved.</summary>
    public bool IsRefused => Outcome == "refused";
}

/// <summary>Saves close-outs: all of one or nothing, by the same way in and the same rules as any other record. Safe for concurrent
/// use.</summary>
/// <param name="registry">The registry.</param>
/// <param name="ingest">The one way in for records.</param>
/// <param name="queries">Reads what was sent before.</param>
/// <param name="settings">The settings.</param>
public sealed partial class CloseOuts(RegistryCache registry, IngestService ingest, VisitQueries queries, Settings settings)
{
    private const int ShortestKey = 8;
    private const int LongestKey = 64;

    private static readonly (string Field, string Words)[] FieldWords =
    [
        ("removed.fitted_at", "when it was fitted"), ("removed.last_seen_good_at", "when it was last seen good"), ("asked_at", "the time of asking"),
        ("arrived_at", "the time of arrival"), ("left_at", "the time of leaving"),
    ];

    /// <summary>Saves a close-out; safe to call again with the same key.</summary>
    /// <param name="values">What was entered.</param>
    /// <param name="reader">Who saves it: the source of its records.</param>
    /// <param name="writer">How the reader writes numbers.</param>
    /// <param name="now">The instant at which it is saved.</param>
    /// <param name="cancellationToken">Stops waiting; what was committed stays.</param>
    public async Task<CloseOutResult> SaveAsync(
        CloseOutValues values, string reader, ReaderPreferences writer, DateTimeOffset now, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        string code = values.Of(CloseOutFields.Unit) ?? string.Empty;
        if (Head(values, reader) is { } wrong)
        {
            return Refused(values, [wrong]);
        }

        if (!snapshot.Units.TryGetValue(code, out UnitEntry? unit))
        {
            return Refused(values, [Of(RuleProblems.UnknownCode("unit", "unit", code, null), CloseOutFields.Unit)]);
        }

        var records = new CloseOutRecords(values, unit, now, writer);
        IReadOnlyList<Proof> asked = ProofRules.Of(snapshot.Cleaning.ById[unit.Id], now);
        CloseOutProblem[] early = [.. new[] { NoOutcome(values), ProofRules.Refuse(values, asked) }.OfType<CloseOutProblem>(), .. CloseOutGaps.Of(values)];
        if (early.Length > 0)
        {
            return Refused(values, early);
        }

        IReadOnlyList<CloseOutRecord> all = records.All(asked);
        if (values.Of(CloseOutFields.Corrects) is { } corrected)
        {
            string key = values.Of(CloseOutFields.Key)!;
            if (await queries.FindAsync(corrected, reader, cancellationToken) is not { } visit || visit.Source != reader || visit.UnitId != unit.Id)
            {
                return Refused(values, [NothingToCorrect()]);
            }

            if (visit.IsVoided && visit.ReplacedBy != key)
            {
                return Refused(values, [CorrectedBefore()]);
            }

            all = CloseOutCorrection.Of(all, key, corrected, await queries.SentAsync(corrected, reader, cancellationToken), records.Left);
        }

        return await SendAsync(values, all, unit.Site.Resource.TimeZone, reader, cancellationToken);
    }

    /// <summary>Withdraws a visit with all that was sent with it; nothing is deleted. A visit that it closed and that had been asked for is asked
    /// for again, since nobody has made it then.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="reason">Why.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops waiting; what was committed stays.</param>
    public async Task<CloseOutResult> WithdrawAsync(VisitRow visit, string reason, DateTimeOffset now, CancellationToken cancellationToken)
    {
        var values = new CloseOutValues(new Dictionary<string, IReadOnlyList<string>> { [CloseOutFields.Key] = [visit.Key] });
        if (visit.IsVoided)
        {
            return new CloseOutResult("already_saved", visit.Key, [], []);
        }

        string prefix = visit.Key + CloseOutRecords.Separator + "withdrawn";
        List<CloseOutRecord> records = [.. (await queries.SentAsync(visit.Key, visit.Source, cancellationToken)).Where(one => one.VoidedBy is null)
            .Select(one => CloseOutCorrection.Void(prefix + one.Key[visit.Key.Length..], one.Key, InstantConverter.Format(now), reason))];
        if (visit.ArrivedAt is not null && await AskedBeforeAsync(visit, cancellationToken) is { } asked)
        {
            RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
            records.Add(CloseOutCorrection.AskedAgain(asked, snapshot.Cleaning.ById[visit.UnitId].Unit, visit.Key + CloseOutRecords.Separator + "asked"));
        }

        return await SendAsync(values, records, "UTC", visit.Source, cancellationToken);
    }

    // The visit that was asked for and that this one, or one that it corrects, was made to close.
    private async Task<VisitRow?> AskedBeforeAsync(VisitRow visit, CancellationToken cancellationToken)
    {
        VisitRow? before = (await queries.EarlierAsync(visit, cancellationToken)).FirstOrDefault(earlier => earlier.ArrivedAt is null);
        return before is { AskedAt: not null, LeftAt: null } ? before : null;
    }

    /// <summary>Sends the records of a form, all or none.</summary>
    /// <param name="values">What was entered.</param>
    /// <param name="records">The records, the one that bears the form's key first.</param>
    /// <param name="zone">Time zone of the site, in which times are told.</param>
    /// <param name="reader">The source.</param>
    /// <param name="cancellationToken">Stops waiting; what was committed stays.</param>
    internal async Task<CloseOutResult> SendAsync(
        CloseOutValues values, IReadOnlyList<CloseOutRecord> records, string zone, string reader, CancellationToken cancellationToken)
    {
        string body = new JsonArray([.. records.Select(record => record.Record)]).ToJsonString();
        var rows = new BodyReader(BodyFormat.Json, null, reader, settings.RowLimitBytes);
        IngestAnswer answer = await ingest.TakeInAsync(
            rows.ReadAsync(PipeReader.Create(new ReadOnlySequence<byte>(Encoding.UTF8.GetBytes(body))), cancellationToken),
            new IngestOptions(AllRows: true, AllOrNothing: true, KeepRefused: false),
            cancellationToken);
        CloseOutProblem[] problems =
            [.. answer.Rows.Where(row => row.Problem is not null).Select(row => Placed(row.Problem!, records[row.Row - 1], zone))];
        if (Array.Exists(problems, problem => problem.Rule == "key_conflict"))
        {
            // A form without scripts says 'now' each time it is sent: sent twice it is the same close-out, a few minutes later.
            return values.Of(CloseOutFields.Left) is null
                ? new CloseOutResult("already_saved", values.Of(CloseOutFields.Key)!, [], [])
                : Refused(values, [SavedBefore()]);
        }

        return problems.Length > 0
            ? Refused(values, problems)
            : new CloseOutResult(
                answer.Rows.Any(row => row.Row == 1 && row.Outcome == RowOutcome.Duplicate) ? "already_saved" : "saved",
                values.Of(CloseOutFields.Key)!,
                [],
                [.. answer.Rows.SelectMany(row => (row.Doubts ?? []).Select(doubt => Placed(doubt, records[row.Row - 1], zone)))]);
    }

    /// <summary>What is wrong with a form before its fields are looked at; null: nothing.</summary>
    /// <param name="values">What was entered.</param>
    /// <param name="reader">Who sends it.</param>
    internal static CloseOutProblem? Head(CloseOutValues values, string reader)
    {
        string key = values.Of(CloseOutFields.Key) ?? string.Empty;
        if (key.Length is < ShortestKey or > LongestKey || !key.All(letter => char.IsAsciiLetterOrDigit(letter) || letter == '-'))
        {
            return new CloseOutProblem(CloseOutFields.Key, "key", "The close-out has no key of its own.", "Open the form again from the unit's page.");
        }

        return values.Of(CloseOutFields.SavedBy) is { } savedBy && savedBy != reader
            ? new CloseOutProblem(
                CloseOutFields.Key,
                "another_person",
                $"This close-out was written by {savedBy}, but {reader} is signed in.",
                $"Sign in as {savedBy} to send it.")
            : null;
    }

    private static CloseOutProblem? NoOutcome(CloseOutValues values) => values.Of(CloseOutFields.Outcome) is null
        ? new CloseOutProblem(CloseOutFields.Outcome, "missing", "Nobody said how the visit ended.", "Choose one of the five.")
        : null;

    private static CloseOutProblem SavedBefore() => new(
        CloseOutFields.Key,
        "key_conflict",
        "This close-out was saved before, with other content; what was saved first stays.",
        "Look at its receipt. To add to it, close out one more visit; to correct it, follow 'Correct this close-out' on its receipt.");

    private static CloseOutProblem NothingToCorrect() => new(
        CloseOutFields.Key, "nothing_to_correct", "There is no close-out of yours at this unit that this one could correct.", "Open the form again from the receipt of the one to be corrected.");

    private static CloseOutProblem CorrectedBefore() => new(
        CloseOutFields.Key,
        "corrected_before",
        "The close-out to be corrected no longer counts: it was corrected or withdrawn meanwhile.",
        "Look at its receipt, and correct what stands for it now.");

    private static CloseOutProblem Placed(RowProblem problem, CloseOutRecord record, string zone)
    {
        if (problem.Rule is "after_decommissioning" or "unknown_unit")
        {
            return InWords(problem, CloseOutFields.Unit, zone);
        }

        // The longest name that the field begins with: checks[2].reading belongs to checks[2].
        string? field = problem.Field is not { } name ? null : record.FormFields
            .Where(pair => name == pair.Key || name.StartsWith(pair.Key + ".", StringComparison.Ordinal) || name.StartsWith(pair.Key + "[", StringComparison.Ordinal))
            .OrderByDescending(pair => pair.Key.Length).Select(pair => pair.Value).FirstOrDefault();
        return InWords(problem, field, zone);
    }

    // A person knows neither the fields of records nor another clock than the site's.
    private static CloseOutProblem InWords(RowProblem problem, string? field, string zone) =>
        new(field, problem.Rule, Told(problem.Detail, zone), Told(problem.Mend, zone));

    private static string Told(string text, string zone)
    {
        string words = UtcInstant().Replace(text, found => InstantConverter.TryParse(found.Value, out DateTimeOffset at) ? Text.Moment(at, zone) : found.Value);
        return Text.Capital(FieldWords.Aggregate(words, (told, field) => told.Replace(field.Field, field.Words, StringComparison.Ordinal)));
    }

    [GeneratedRegex(@"\d{4}-\d\d-\d\dT[\d:.]+Z")]
    private static partial Regex UtcInstant();

    private static CloseOutProblem Of(RowProblem problem, string? field) => new(field, problem.Rule, problem.Detail, problem.Mend);

    /// <summary>A form of which nothing was saved.</summary>
    /// <param name="values">What was entered.</param>
    /// <param name="problems">Why.</param>
    internal static CloseOutResult Refused(CloseOutValues values, IReadOnlyList<CloseOutProblem> problems) =>
        new("refused", values.Of(CloseOutFields.Key) ?? string.Empty, problems, []);
}
