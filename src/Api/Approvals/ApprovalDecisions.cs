using System.Globalization;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Approvals;

/// <summary>
/// Decides approvals. A decision is a record like any other: it replaces the one that asked, comes in by the same way and under the same rules.
/// Whether the approval is still open is asked in the transaction that writes the decision, so that of two deciders one is told no.
/// </summary>
/// <param name="queries">Reads what the caller may see; the transaction sees everything.</param>
/// <param name="ingest">The way in.</param>
/// <param name="clock">The clock.</param>
public sealed class ApprovalDecisions(ApprovalQueries queries, IngestService ingest, TimeProvider clock)
{
    private const int LongestText = 1000;

    /// <summary>Decides one.</summary>
    /// <param name="id">Number of the record that asks.</param>
    /// <param name="decision">The decision.</param>
    /// <param name="enteredBy">Name of the key with which it is entered.</param>
    /// <param name="cancellationToken">Stops waiting for the turn.</param>
    /// <returns>Number of the record of the decision; or why it was not taken.</returns>
    internal async Task<(long? Seq, ProblemResult? Problem)> DecideAsync(
        long id, DecisionResource decision, string enteredBy, CancellationToken cancellationToken)
    {
        if (Wrong(decision) is { Length: > 0 } wrong)
        {
            return (null, Problems.Invalid(wrong));
        }

        if (await queries.FateAsync(id, cancellationToken) is null)
        {
            return (null, Problems.NotFound("approval", id.ToString(CultureInfo.InvariantCulture)));
        }

        string word = decision.Decision == DecisionWord.Granted ? "granted" : "refused";
        AuditNote? audit = AuditNote.Current;
        audit?.Saying(word);
        ProblemResult? problem = null;
        (RowResult Result, long? Seq)? taken = await ingest.TakeInMadeAsync(
            async (session, registry) =>
            {
                StoredApproval? open = await ApprovalQueries.OneAsync(session, id);
                problem = open is null ? await WhyNotAsync(session, id)
                    : open.Decision is not null ? AlreadyDecided(open.Decision, open.DecidedAt, open.DecidedBy)
                    : null;
                if (problem is null && open!.AskedBy is { } asker && new[] { decision.By.Trim(), enteredBy }.Contains(asker, StringComparer.OrdinalIgnoreCase))
                {
                    audit?.Saying(word + ", by who asked for it");
                }

                return problem is null ? RecordOf(open!, registry.UnitsById[open!.UnitId], decision, enteredBy) : null;
            },
            cancellationToken);
        if (taken is not { } row)
        {
            return (null, problem);
        }

        return row.Result.Problem is { } refused
            ? (null, Problems.Invalid(refused.Field ?? "approval", refused.Rule, refused.Detail, refused.Mend))
            : (row.Seq, null);
    }

    private ApprovalRecord RecordOf(StoredApproval asked, UnitEntry unit, DecisionResource decision, string enteredBy)
    {
        string by = decision.By.Trim();
        string? entered = string.Equals(by, enteredBy, StringComparison.OrdinalIgnoreCase) ? null : StoredApproval.EnteredWith(enteredBy);
        string[] note = [.. new[] { asked.Note, decision.Note?.Trim(), entered }.OfType<string>().Where(text => text.Length > 0)];
        return new ApprovalRecord(
            asked.Source,
            string.Create(CultureInfo.InvariantCulture, $"decision-on-{asked.Seq}"),
            unit.Resource.Unit,
            asked.At,
            asked.Key,
            asked.What,
            asked.Amount,
            asked.FaultCode,
            asked.AskedAt,
            decision.Decision == DecisionWord.Granted ? ApprovalDecision.Granted : ApprovalDecision.Refused,
            clock.GetUtcNow(),
            by,
            note.Length == 0 ? null : string.Join(' ', note));
    }

    private static FieldProblem[] Wrong(DecisionResource decision)
    {
        var wrong = new List<FieldProblem>();
        if (string.IsNullOrWhiteSpace(decision.By))
        {
            wrong.Add(new("by", "required", "Nobody is named who decides.", "Name who decides."));
        }

        foreach ((string field, string? text) in new[] { ("by", decision.By), ("note", decision.Note) })
        {
            if (text?.Length > LongestText)
            {
                wrong.Add(new(field, "length", $"It is longer than {LongestText} characters.", "Shorten it."));
            }
        }

        return [.. wrong];
    }

    private static async Task<ProblemResult> WhyNotAsync(WriteSession session, long id)
    {
        RecordFate? fate = await ApprovalQueries.FateAsync(session, id);
        return fate switch
        {
            null or { Type: not "approval" } => Problems.NotFound("approval", id.ToString(CultureInfo.InvariantCulture)),
            { ByType: "approval", Decision: { } decision } => AlreadyDecided(decision, fate.DecidedAt, fate.DecidedBy),
            { ByType: "approval", BySeq: { } other } => Problems.Status(
                StatusCodes.Status409Conflict,
                FormattableString.Invariant($"This request was corrected since: number {other} stands in its place. Read that one, and decide it.")),
            { ByType: not null } => Problems.Status(
                StatusCodes.Status409Conflict,
                $"This request was withdrawn{Because(fate.Reason)}; there is nothing left to decide."),
            _ => Problems.NotFound("approval", id.ToString(CultureInfo.InvariantCulture)),
        };
    }

    private static ProblemResult AlreadyDecided(string decision, DateTimeOffset? at, string? by) => Problems.Status(
        StatusCodes.Status409Conflict,
        $"It was {decision} already, by {by ?? "somebody who is not named"}, {Text.Moment(at, "Etc/UTC")}. "
        + "To change a decision, send an approval record that replaces it.");

    private static string Because(string? reason) => string.IsNullOrWhiteSpace(reason) ? string.Empty : $" (“{reason}”)";
}
