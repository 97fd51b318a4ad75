using System.Globalization;
using System.Text.Json.Nodes;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Tells a close-out anew: fills the form with what one recorded, and makes what is then sent stand for it.</summary>
/// <remarks>Nothing is deleted. A record that is told again replaces the one before; one that is not is voided.</remarks>
internal static class CloseOutCorrection
{
    private const string Yes = "yes";

    /// <summary>What a close-out recorded, as its form held it.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="parts">Its part changes that count.</param>
    /// <param name="cleared">Codes of the faults that it reported as gone.</param>
    /// <param name="ask">The approval that it asked for; null: none.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="key">Key of the close-out that is going to stand for it.</param>
    public static CloseOutValues Values(
        VisitRow visit, IReadOnlyList<PartRow> parts, IReadOnlyList<string> cleared, AskRow? ask, UnitEntry unit, string key)
    {
        var fields = new Dictionary<string, IReadOnlyList<string>>();
        void Put(string field, string? value)
        {
            if (!string.IsNullOrEmpty(value))
            {
                fields[field] = [value];
            }
        }

        string? Wall(DateTimeOffset? at) => at is { } instant ? SiteTime.Of(instant, unit.Site.Zone) : null;
        Put(CloseOutFields.Key, key);
        Put(CloseOutFields.Unit, unit.Resource.Unit);
        Put(CloseOutFields.Corrects, visit.Key);
        Put(CloseOutFields.Asked, Wall(visit.AskedAt));
        Put(CloseOutFields.Arrived, Wall(visit.ArrivedAt));
        Put(CloseOutFields.Left, Wall(visit.LeftAt));
        Put(CloseOutFields.Technician, visit.Technician);
        Put(CloseOutFields.Outcome, visit.Outcome);
        Put(CloseOutFields.Note, visit.Note);
        fields[CloseOutFields.Fault] = VisitRow.List<string>(visit.Faults);
        foreach (VisitCheck check in VisitRow.List<VisitCheck>(visit.Checks))
        {
            Put(CloseOutFields.CheckResult(check.Check), Told(check.Result));
            Put(CloseOutFields.Check(check.Check) + "/reading", Typed(check.Reading));
            Put(CloseOutFields.Check(check.Check) + "/unit", check.UnitOfMeasure);
        }

        foreach (PartRow part in parts)
        {
            PutPart(Put, CloseOutFields.Part(part.Position), part, visit, unit);
        }

        foreach (VisitFinding found in VisitRow.List<VisitFinding>(visit.Findings).Where(found => !parts.Any(part => Tells(part, found))))
        {
            if (unit.Model.Resource.Faults.SelectMany(fault => fault.Causes ?? []).Any(known => Is(known, found)))
            {
                Put(CloseOutFields.Found(found.Position, found.FailureMode, found.Cause), Yes);
            }
            else
            {
                Put("other/position", found.Position);
                Put("other/mode", found.FailureMode);
            }
        }

        foreach (PartCondition seen in VisitRow.List<PartCondition>(visit.Conditions))
        {
            Put(CloseOutFields.Part(seen.Position) + "/looks", Json.Name(seen.Grade.ToString()));
        }

        foreach (VisitProof proof in VisitRow.List<VisitProof>(visit.Proofs))
        {
            Put(CloseOutFields.Proof(proof.Proof), Told(proof.Result));
        }

        foreach (string code in cleared)
        {
            Put(CloseOutFields.Cleared(code), Yes);
        }

        if (ask is { Decision: null, IsWithdrawn: false })
        {
            Put(CloseOutFields.AskWhat, ask.What);
            Put(CloseOutFields.AskAmount, Typed(ask.Amount));
        }

        return new CloseOutValues(fields);
    }

    /// <summary>Makes the records of a close-out stand for those of an earlier one.</summary>
    /// <param name="told">What is told now, the visit first.</param>
    /// <param name="key">Its key.</param>
    /// <param name="corrected">Key of the earlier close-out.</param>
    /// <param name="sent">What was sent with that one.</param>
    /// <param name="at">When the correction's visit ended, so that it is the same each time it is sent.</param>
    public static IReadOnlyList<CloseOutRecord> Of(
        IReadOnlyList<CloseOutRecord> told, string key, string corrected, IReadOnlyList<SentRecord> sent, string at)
    {
        // A decision stands for the record that asked, and is not asked for again.
        bool Decided(SentRecord one) => one.Type == "approval" && !CountsUnless(one, key);
        string decided = sent.Any(Decided) ? CloseOutRecords.ApprovalKey(key) : string.Empty;
        Dictionary<string, SentRecord> standing = sent.Where(one => CountsUnless(one, key)).ToDictionary(one => key + one.Key[corrected.Length..], StringComparer.Ordinal);
        var all = new List<CloseOutRecord>();
        foreach (CloseOutRecord record in told.Where(record => (string)record.Record["key"]! != decided))
        {
            if (standing.Remove((string)record.Record["key"]!, out SentRecord? earlier))
            {
                record.Record["replaces"] = earlier.Key;
            }

            all.Add(record);
        }

        all.AddRange(standing.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => Void(
            key + CloseOutRecords.Separator + "void" + pair.Value.Key[corrected.Length..], pair.Value.Key, at, "Corrected: not told again.")));
        return all;
    }

    /// <summary>A record that voids another.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="voids">Key of the one that counts no longer.</param>
    /// <param name="at">When.</param>
    /// <param name="reason">Why.</param>
    public static CloseOutRecord Void(string key, string voids, string at, string reason) => new(
        new JsonObject { ["type"] = "void", ["key"] = key, ["at"] = at, ["voids"] = voids, ["reason"] = reason }, new Dictionary<string, string>());

    /// <summary>A visit that was asked for, asked for again as it was.</summary>
    /// <param name="asked">The visit.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="key">Key of the new record.</param>
    public static CloseOutRecord AskedAgain(VisitRow asked, UnitEntry unit, string key)
    {
        var again = new JsonObject { ["type"] = "visit", ["key"] = key, ["unit"] = unit.Resource.Unit, ["asked_at"] = InstantConverter.Format(asked.AskedAt!.Value) };
        if (asked.Faults is { } faults)
        {
            again["faults"] = JsonNode.Parse(faults);
        }

        if (asked.Note is { } note)
        {
            again["note"] = note;
        }

        return new CloseOutRecord(again, new Dictionary<string, string>());
    }

    // Whether a record counts, or would if the correction under that key had not been sent before.
    private static bool CountsUnless(SentRecord one, string key) =>
        one.VoidedBy is null || one.VoidedBy == key || one.VoidedBy.StartsWith(key + CloseOutRecords.Separator, StringComparison.Ordinal);

    private static void PutPart(Action<string, string?> put, string field, PartRow part, VisitRow visit, UnitEntry unit)
    {
        put(field + "/out", part.RemovedReason);
        put(field + "/mode", part.FailureMode);
        put(field + "/seen-on", part.LastSeenGoodAt is { } seen ? SiteTime.Of(seen, unit.Site.Zone)[..10] : null);
        put(field + "/fitted", part.RemovedFittedAt is { } fitted ? InstantConverter.Format(fitted) : null);
        put(field + "/batch", part.Batch);
        put(field + "/at", part.At == visit.ArrivedAt ? null : SiteTime.Of(part.At, unit.Site.Zone));
        if (part.Fitted)
        {
            IReadOnlyList<string> listed = unit.Model.Positions.GetValueOrDefault(part.Position)?.PartNumbers ?? [];
            bool isListed = part.PartNumber is { } number && listed.Contains(number, StringComparer.Ordinal);
            put(field + (part.PartNumber is null || isListed ? "/in" : "/number"), part.PartNumber ?? CloseOutFields.UnknownPart);
        }
    }

    // As the reader would type it: the form is read in the reader's way.
    private static string? Typed(double? number) => number?.ToString("R", CultureInfo.InvariantCulture)
        .Replace(".", ReaderPreferences.Current.Culture.DecimalMark, StringComparison.Ordinal);

    private static string? Told(CheckResult result) => result == CheckResult.NotDone ? null : Json.Name(result.ToString());

    // A part taken out as failed is a finding by itself.
    private static bool Tells(PartRow part, VisitFinding found) => part.RemovedReason is "failed" or "found_failed"
        && found.Cause is null && Same(part.Position, found.Position) && Same(part.FailureMode, found.FailureMode);

    private static bool Is(FaultCauseResource known, VisitFinding found) =>
        Same(known.Position, found.Position) && Same(known.FailureMode, found.FailureMode) && Same(known.Cause, found.Cause);

    private static bool Same(string? one, string? other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}

/// <summary>A record that was sent with a close-out, itself included.</summary>
internal sealed class SentRecord
{
    /// <summary>Its key.</summary>
    public required string Key { get; init; }

    /// <summary>Its type.</summary>
    public required string Type { get; init; }

    /// <summary>Code of a fault that it reports as gone.</summary>
    public string? Code { get; init; }

    /// <summary>Key of the record that voids or replaces it; null: it counts.</summary>
    public string? VoidedBy { get; init; }
}
