using System.Text.Json;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.State;

/// <summary>Holds a database against what its senders were told.</summary>
/// <param name="state">The database.</param>
/// <param name="findings">Where broken promises are told.</param>
internal sealed class Truth(LedgerState state, Findings findings)
{
    private readonly Dictionary<string, int> _seen = [];

    /// <summary>What came since the last look: all that was acknowledged is there once, with its content; of what was not, whole
    /// transactions or nothing.</summary>
    /// <param name="senders">The senders, none of which is sending.</param>
    /// <param name="when">When, for the message.</param>
    public void LookAtNew(IReadOnlyList<Sender> senders, string when)
    {
        foreach (Sender sender in senders)
        {
            int seen = _seen.GetValueOrDefault(sender.Source);
            Look(sender, sender.Acknowledged.Skip(seen), sender.Pending as RowsPortion, when);
            _seen[sender.Source] = sender.Acknowledged.Count;
        }
    }

    /// <summary>All of it, photos, decisions, registry and what no longer counts with it; nothing may be pending.</summary>
    /// <param name="senders">The senders, none of which is sending.</param>
    /// <param name="when">When, for the message.</param>
    public void LookAtAll(IReadOnlyList<Sender> senders, string when)
    {
        foreach (Sender sender in senders)
        {
            Look(sender, sender.Acknowledged, sender.Pending as RowsPortion, when);
            LookAtVoided(sender, when);
            LookAtPhotos(sender, when);
            LookAtDecisions(sender, when);
            LookAtUnits(sender, when);
        }

        findings.Expect(state.Number("SELECT count(*) FROM (SELECT source, key FROM record GROUP BY 1, 2 HAVING count(*) > 1)") == 0, $"{when}: a record twice");
        findings.Count("looks at the whole database");
    }

    private void Look(Sender sender, IEnumerable<Portion> acknowledged, RowsPortion? pending, string when)
    {
        RowsPortion[] portions = [.. acknowledged.OfType<RowsPortion>()];
        IEnumerable<RowsPortion> all = pending is null ? portions : portions.Append(pending);
        if (!all.Any())
        {
            return;
        }

        string first = all.SelectMany(portion => portion.Rows).Select(row => row.Key).Min(StringComparer.Ordinal)!;
        Dictionary<string, string> facts = state.Facts(sender.Source, first);
        foreach (RowsPortion portion in portions)
        {
            LookAt(sender, portion, facts, when);
        }

        if (pending is not null)
        {
            LookAtPending(sender, pending, facts, when);
        }

        findings.Expect(facts.Count == 0, $"{when}: {sender.Source}: {facts.Count} records that nobody sent, such as {facts.Keys.FirstOrDefault()}");
    }

    private void LookAt(Sender sender, RowsPortion portion, Dictionary<string, string> facts, string when)
    {
        foreach (Row row in portion.Rows)
        {
            bool there = facts.Remove(row.Key, out string? said);
            if (!portion.IsKept)
            {
                findings.Expect(!there, $"{when}: {sender.Source} {row.Key}: of a refused all-or-nothing request");
                continue;
            }

            findings.Expect(there, $"{when}: {sender.Source} {row.Key} was acknowledged and is lost");
            findings.Expect(!there || said == row.Facts, $"{when}: {sender.Source} {row.Key} says {said} instead of {row.Facts}");
            findings.Count("acknowledged records looked at");
        }
    }

    private void LookAtPending(Sender sender, RowsPortion portion, Dictionary<string, string> facts, string when)
    {
        int there = portion.Rows.Count(row => facts.Remove(row.Key));
        int count = portion.Rows.Count;
        bool whole = there == count;
        bool prefix = !portion.AllOrNothing && there % LedgerState.RowsPerTransaction == 0;
        findings.Expect(there == 0 || whole || prefix, $"{when}: {sender.Source}: {there} of {count} rows of an unacknowledged request");
        findings.Expect(portion.IsKept || there == 0, $"{when}: {sender.Source}: {there} rows of a request that is refused");
        findings.Count(there == 0 ? "unacknowledged requests: nothing there" : whole ? "unacknowledged requests: all there" : "unacknowledged requests: whole transactions there");
    }

    private void LookAtVoided(Sender sender, string when)
    {
        HashSet<string> expected =
        [
            .. sender.Acknowledged.OfType<RowsPortion>().Where(portion => portion.IsKept).SelectMany(portion => portion.Rows)
                .Select(row => row.Takes).OfType<string>(),
            .. sender.Acknowledged.OfType<DecisionPortion>().Select(decision => decision.AskingKey),
        ];
        if (sender.Pending is null)
        {
            findings.Expect(expected.SetEquals(state.Voided(sender.Source)), $"{when}: {sender.Source}: other records count than were told");
        }
    }

    private void LookAtPhotos(Sender sender, string when)
    {
        List<string> there = state.Photos(sender.Source);
        foreach (PhotoPortion photo in sender.Acknowledged.OfType<PhotoPortion>())
        {
            findings.Expect(there.Remove(LedgerState.PhotoName(photo.VisitKey, photo.Bytes)), $"{when}: {sender.Source}: a photo of {photo.VisitKey} is lost");
        }

        findings.Expect(there.Count <= (sender.Pending is PhotoPortion ? 1 : 0), $"{when}: {sender.Source}: photos twice");
    }

    // Of the decision, the number of rows that replace the request: exactly one.
    private void LookAtDecisions(Sender sender, string when)
    {
        foreach (DecisionPortion decision in sender.Acknowledged.OfType<DecisionPortion>())
        {
            long there = state.Number(
                "SELECT count(*) FROM record r JOIN approval a ON a.seq = r.seq WHERE r.source = @source AND r.replaces = @key AND a.decision = 'granted'",
                ("source", sender.Source),
                ("key", decision.AskingKey));
            findings.Expect(there == 1, $"{when}: {sender.Source}: {there} decisions on {decision.AskingKey}");
        }
    }

    private void LookAtUnits(Sender sender, string when)
    {
        foreach (IGrouping<string, RegistryPortion> unit in sender.Acknowledged.OfType<RegistryPortion>().GroupBy(put => put.Unit))
        {
            using JsonDocument body = JsonDocument.Parse(state.UnitBody(unit.Key) ?? "{}");
            string? serial = body.RootElement.TryGetProperty("serial", out JsonElement value) ? value.GetString() : null;
            bool ahead = sender.Pending is RegistryPortion pending && pending.Unit == unit.Key && pending.Serial == serial;
            findings.Expect(ahead || serial == unit.Last().Serial, $"{when}: {unit.Key} has the serial {serial} instead of {unit.Last().Serial}");
        }
    }
}
