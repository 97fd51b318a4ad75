using System.Globalization;
using System.Text.Json.Nodes;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>A record made of a form, and which field of the form each of its fields came from.</summary>
/// <param name="Record">The record, as it could be sent to the one way in.</param>
/// <param name="FormFields">Field of the form by field of the record; a list's items are named by their place, such as checks[2].</param>
internal sealed record CloseOutRecord(JsonObject Record, IReadOnlyDictionary<string, string> FormFields);

/// <summary>Turns what was entered into records: one visit, a part change for each position at which a part went out or in, a cleared
/// fault for each that has gone, and an approval that is asked for where the visit waits for one. Nothing is judged here: what is no number
/// or no instant goes on as it was typed.</summary>
/// <param name="values">What was entered.</param>
/// <param name="unit">The unit.</param>
/// <param name="left">When work ended, if the form does not say.</param>
/// <param name="writer">How whoever fills the form in writes numbers.</param>
internal sealed class CloseOutRecords(CloseOutValues values, UnitEntry unit, DateTimeOffset left, ReaderPreferences writer)
{
    private readonly string _key = values.Of(CloseOutFields.Key)!;
    private readonly string? _arrived = SiteTime.ToInstant(values.Of(CloseOutFields.Arrived), unit.Site.Zone);

    private readonly string _left = SiteTime.ToInstant(values.Of(CloseOutFields.Left) ?? SiteTime.Of(left, unit.Site.Zone), unit.Site.Zone)!;

    /// <summary>Between the key of a close-out and what names one of its further records.</summary>
    public const char Separator = '/';

    /// <summary>Key of the approval that a close-out asks for.</summary>
    /// <param name="visit">Key of the close-out.</param>
    public static string ApprovalKey(string visit) => visit + Separator + "approval";

    // Positions at which something was changed or found.
    private string[] Concerned =>
        [.. Parts().Where(part => IsChanged(part.Field)).Select(part => part.Code), .. Findings().Select(found => found.Position)];

    /// <summary>When work ended, as an instant.</summary>
    public string Left => _left;

    /// <summary>The records, the visit first.</summary>
    /// <param name="asked">Proofs that the repair asks for.</param>
    public IReadOnlyList<CloseOutRecord> All(IReadOnlyList<Proof> asked) =>
    [
        Visit(asked),
        .. Parts().Where(part => IsChanged(part.Field)).Select(part => PartChange(part.Code, part.Field)),
        .. Cleared(),
        .. values.Of(CloseOutFields.Outcome) == "waiting_approval" ? [Ask()] : Array.Empty<CloseOutRecord>(),
    ];

    private CloseOutRecord Visit(IReadOnlyList<Proof> asked)
    {
        var fields = new Dictionary<string, string>
        {
            ["at"] = CloseOutFields.Arrived,
            ["asked_at"] = CloseOutFields.Asked,
            ["arrived_at"] = CloseOutFields.Arrived,
            ["left_at"] = CloseOutFields.Left,
            ["outcome"] = CloseOutFields.Outcome,
            ["technician"] = CloseOutFields.Technician,
            ["note"] = CloseOutFields.Note,
            ["faults"] = CloseOutFields.Fault,
        };
        JsonObject visit = Head("visit", _key);
        Put(visit, "replaces", values.Of(CloseOutFields.Replaces));
        Put(visit, "asked_at", SiteTime.ToInstant(values.Of(CloseOutFields.Asked), unit.Site.Zone));
        Put(visit, "arrived_at", _arrived);
        Put(visit, "left_at", _left);
        Put(visit, "outcome", values.Of(CloseOutFields.Outcome));
        Put(visit, "technician", values.Of(CloseOutFields.Technician));
        Put(visit, "note", values.Of(CloseOutFields.Note)?.ReplaceLineEndings("\n"));
        visit["faults"] = new JsonArray([.. values.All(CloseOutFields.Fault).Select(code => (JsonNode)code)]);
        List(visit, fields, "checks", Checks());
        List(visit, fields, "findings", Findings().Select(found => (found.Item, found.Field)));
        List(visit, fields, "proofs", Proofs(asked));
        List(visit, fields, "conditions", Conditions());
        return new CloseOutRecord(visit, fields);
    }

    private CloseOutRecord PartChange(string position, string field)
    {
        JsonObject change = Head("part_change", _key + Separator + "part" + Separator + position);
        Put(change, "at", SiteTime.ToInstant(values.Of(field + "/at"), unit.Site.Zone) ?? _arrived);
        Put(change, "position", position);
        if (values.Of(field + "/out") is { } reason)
        {
            var removed = new JsonObject { ["reason"] = reason };
            Put(removed, "failure_mode", values.Of(field + "/mode"));
            Put(removed, "last_seen_good_at", SiteTime.StartOf(values.Of(field + "/seen-on"), unit.Site.Zone) ?? values.Of(field + "/seen"));
            Put(removed, "fitted_at", values.Of(field + "/fitted"));
            change["removed"] = removed;
        }

        if (PutIn(field) is { } number)
        {
            var fitted = new JsonObject();
            Put(fitted, "part_number", number == CloseOutFields.UnknownPart ? null : number);
            Put(fitted, "batch", values.Of(field + "/batch"));
            change["fitted"] = fitted;
        }

        return new CloseOutRecord(change, new Dictionary<string, string>
        {
            ["at"] = field + "/at",
            ["position"] = field,
            ["removed.reason"] = field + "/out",
            ["removed.failure_mode"] = field + "/mode",
            ["removed.last_seen_good_at"] = field + "/seen",
            ["fitted.part_number"] = field + "/in",
            ["removed"] = field,
            ["fitted"] = field,
        });
    }

    private IEnumerable<CloseOutRecord> Cleared() =>
        values.Names.Where(name => Is(name, "cleared", 1) && values.Of(name) is not null).Select(name =>
    {
        string code = CloseOutFields.Codes(name)[0];
        JsonObject cleared = Head("fault_cleared", _key + Separator + "cleared" + Separator + code);
        Put(cleared, "code", code);
        Put(cleared, "at", _left);
        return new CloseOutRecord(cleared, new Dictionary<string, string> { ["code"] = name, ["at"] = CloseOutFields.Left });
    });

    // A technician in gloves types nothing: what was found is what has to be replaced.
    private CloseOutRecord Ask()
    {
        IReadOnlyList<string> faults = values.All(CloseOutFields.Fault);
        string[] found = [.. Concerned.Distinct(StringComparer.OrdinalIgnoreCase)
            .Select(code => (unit.Model.Positions.GetValueOrDefault(code)?.Name ?? code).ToLowerInvariant())];
        JsonObject approval = Head("approval", ApprovalKey(_key));
        Put(approval, "what", values.Of(CloseOutFields.AskWhat) ?? (found.Length > 0 ? "Replace " + string.Join(", ", found)
            : faults.Count > 0 ? "Repair of fault " + string.Join(", ", faults) : "Repair"));
        if (values.Of(CloseOutFields.AskAmount) is { } amount)
        {
            approval["amount"] = NumberOrText(amount);
        }

        Put(approval, "fault_code", faults.Count > 0 ? faults[0] : null);
        Put(approval, "asked_at", _left);
        return new CloseOutRecord(approval, new Dictionary<string, string>
        {
            ["what"] = CloseOutFields.AskWhat,
            ["amount"] = CloseOutFields.AskAmount,
            ["fault_code"] = CloseOutFields.Fault,
            ["asked_at"] = CloseOutFields.Left,
        });
    }

    private IEnumerable<(JsonObject Item, string Field)> Checks() =>
        values.Names.Where(name => Is(name, "check", 2) && name.EndsWith("/result", StringComparison.Ordinal) && values.Of(name) is not null).Select(name =>
        {
            string field = name[..^"/result".Length];
            var check = new JsonObject { ["check"] = CloseOutFields.Codes(name)[0], ["result"] = values.Of(name) };
            if (values.Of(field + "/reading") is { } reading)
            {
                // The form says in which unit it was typed; what is kept does not depend on who typed it.
                Measure? typedIn = Measure.Typed(values.Of(field + "/unit"));
                double? number = TypedNumber.Read(reading, writer);
                check["reading"] = number is { } typed && typedIn is not null ? typedIn.ToKept(typed) : NumberOrText(reading);
                Put(check, "unit_of_measure", number is not null && typedIn is not null ? typedIn.KeptAs : values.Of(field + "/unit"));
            }

            return (check, field);
        });

    private IEnumerable<(JsonObject Item, string Field, string Position)> Findings()
    {
        var positions = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (string name in values.Names.Where(name => Is(name, "found", 3) && values.Of(name) is not null))
        {
            string[] codes = CloseOutFields.Codes(name);
            positions.Add(codes[0]);
            yield return (Finding(codes[0], codes[1], codes[2]), name, codes[0]);
        }

        if (values.Of("other/position") is { } other)
        {
            positions.Add(other);
            yield return (Finding(other, values.Of("other/mode"), null), "other", other);
        }

        // A part that was taken out as failed is a finding even if nobody told it twice.
        foreach ((string code, string field) in Parts().Where(part => values.Of(part.Field + "/out") is "failed" or "found_failed" && positions.Add(part.Code)))
        {
            yield return (Finding(code, values.Of(field + "/mode"), null), field, code);
        }
    }

    private IEnumerable<(JsonObject Item, string Field)> Proofs(IReadOnlyList<Proof> asked)
    {
        bool repaired = values.Of(CloseOutFields.Outcome) is "proven" or "repaired_not_proven";
        foreach (string name in values.Names.Where(name => Is(name, "proof", 1)))
        {
            string code = CloseOutFields.Codes(name)[0];
            if ((values.Of(name) ?? (repaired && asked.Any(proof => proof.Code == code) ? "not_done" : null)) is { } result)
            {
                yield return (new JsonObject { ["proof"] = code, ["result"] = result }, name);
            }
        }
    }

    private IEnumerable<(JsonObject Item, string Field)> Conditions() => Parts().Where(part => values.Of(part.Field + "/looks") is not null)
        .Select(part => (new JsonObject { ["position"] = part.Code, ["grade"] = values.Of(part.Field + "/looks") }, part.Field + "/looks"));

    private IEnumerable<(string Code, string Field)> Parts() =>
        values.Names.Where(name => Is(name, "part", 2)).Select(name => name[..name.LastIndexOf(CloseOutRecords.Separator)]).Distinct()
            .Select(field => (CloseOutFields.Codes(field)[0], field));

    private bool IsChanged(string field) => values.Of(field + "/out") is not null || PutIn(field) is not null;

    private string? PutIn(string field) => values.Of(field + "/number") ?? values.Of(field + "/in");

    private JsonObject Head(string type, string key) => new() { ["type"] = type, ["key"] = key, ["unit"] = unit.Resource.Unit };

    private static JsonObject Finding(string position, string? mode, string? cause)
    {
        var finding = new JsonObject { ["position"] = position };
        Put(finding, "failure_mode", mode);
        Put(finding, "cause", cause);
        return finding;
    }

    private static void List(
        JsonObject record, Dictionary<string, string> fields, string name, IEnumerable<(JsonObject Item, string Field)> items)
    {
        var list = new JsonArray();
        foreach ((JsonObject item, string field) in items)
        {
            fields[string.Create(CultureInfo.InvariantCulture, $"{name}[{list.Count}]")] = field;
            list.Add(item);
        }

        record[name] = list;
    }

    private static void Put(JsonObject into, string name, string? text)
    {
        if (!string.IsNullOrEmpty(text))
        {
            into[name] = text;
        }
    }

    private JsonNode NumberOrText(string typed) => TypedNumber.Read(typed, writer) is { } number ? number : typed;

    private static bool Is(string name, string group, int codes) =>
        name.StartsWith(group + "/", StringComparison.Ordinal) && name.Count(letter => letter == Separator) == codes;
}
