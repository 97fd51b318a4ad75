using System.Text.Json.Nodes;

namespace Washwear.Api.Tests.Compatibility;

/// <summary>
/// What a client of a released contract would stumble over in another one. Clients must go on working unchanged: whatever they may send is taken,
/// and whatever they read is there, of the types that they were told. New paths, optional parameters and fields, statuses, media types and words in
/// answers are no break: clients are told to pass over what they do not know.
/// </summary>
/// <param name="released">The released contract, as JSON.</param>
/// <param name="current">The other one.</param>
internal sealed class ContractBreaks(JsonNode released, JsonNode current)
{
    private readonly List<string> _breaks = [];
    private readonly HashSet<(string, string, bool)> _compared = [];

    /// <summary>Finds them, a line each.</summary>
    public IReadOnlyList<string> Find()
    {
        foreach ((string path, JsonNode? methods) in released["paths"]!.AsObject())
        {
            foreach ((string method, JsonNode? operation) in methods!.AsObject())
            {
                string name = $"{method} {path}";
                if (current["paths"]![path]?[method] is { } now)
                {
                    CompareOperation(name, operation!, now);
                }
                else
                {
                    _breaks.Add($"{name}: is gone");
                }
            }
        }

        return _breaks;
    }

    private void CompareOperation(string name, JsonNode before, JsonNode now)
    {
        CompareParameters(name, List(before["parameters"]), List(now["parameters"]));
        CompareBody(name, Resolve(before["requestBody"], released), Resolve(now["requestBody"], current));
        foreach ((string status, JsonNode? answer) in before["responses"]!.AsObject())
        {
            if (now["responses"]![status] is { } answered)
            {
                CompareContents($"{name}: answer {status}", Resolve(answer, released)!, Resolve(answered, current)!, isSent: false);
            }
            else
            {
                _breaks.Add($"{name}: answer {status} is gone");
            }
        }
    }

    private void CompareParameters(string name, IReadOnlyList<JsonNode> before, IReadOnlyList<JsonNode> now)
    {
        static (string, string) Key(JsonNode parameter) => ((string)parameter["in"]!, (string)parameter["name"]!);
        Dictionary<(string, string), JsonNode> there = now.Select(one => Resolve(one, current)!).ToDictionary(Key);
        HashSet<(string, string)> known = [];
        foreach (JsonNode parameter in before.Select(one => Resolve(one, released)!))
        {
            known.Add(Key(parameter));
            string place = $"{name}: parameter {parameter["name"]}";
            if (!there.TryGetValue(Key(parameter), out JsonNode? other))
            {
                _breaks.Add(place + " is gone");
                continue;
            }

            if (IsTrue(other["required"]) && !IsTrue(parameter["required"]))
            {
                _breaks.Add(place + " has become required");
            }

            CompareSchemas(place, parameter["schema"], other["schema"], isSent: true);
        }

        _breaks.AddRange(there.Where(pair => !known.Contains(pair.Key) && IsTrue(pair.Value["required"])).Select(pair => $"{name}: parameter {pair.Key.Item2} is new and required"));
    }

    private void CompareBody(string name, JsonNode? before, JsonNode? now)
    {
        if (before is null || now is null)
        {
            if (before is not null)
            {
                _breaks.Add(name + ": its body is gone");
            }
            else if (IsTrue(now?["required"]))
            {
                _breaks.Add(name + ": a body is new and required");
            }

            return;
        }

        if (IsTrue(now["required"]) && !IsTrue(before["required"]))
        {
            _breaks.Add(name + ": its body has become required");
        }

        CompareContents(name + ": body", before, now, isSent: true);
    }

    private void CompareContents(string place, JsonNode before, JsonNode now, bool isSent)
    {
        foreach ((string type, JsonNode? content) in before["content"]?.AsObject() ?? [])
        {
            if (now["content"]?[type] is { } there)
            {
                CompareSchemas($"{place} {type}", content!["schema"], there["schema"], isSent);
            }
            else
            {
                _breaks.Add($"{place} {type} is gone");
            }
        }
    }

    private void CompareSchemas(string place, JsonNode? before, JsonNode? now, bool isSent)
    {
        if (before is null || now is null)
        {
            if (isSent ? now is not null && before is null : before is not null)
            {
                _breaks.Add($"{place}: its shape is {(now is null ? "gone" : "new")}");
            }

            return;
        }

        if ((string?)before["$ref"] is { } from && (string?)now["$ref"] is { } to && !_compared.Add((from, to, isSent)))
        {
            return;
        }

        JsonNode[] branches = Branches(before, released);
        JsonNode[] others = Branches(now, current);
        if (branches.Length == 1 && others.Length == 1)
        {
            CompareOne(place, branches[0], others[0], isSent);
            return;
        }

        // Each shape that may be sent is still taken; each that may come was known.
        (JsonNode[] all, JsonNode[] among) = isSent ? (branches, others) : (others, branches);
        foreach (JsonNode one in all.Where(one => !among.Any(other => isSent ? Fits(one, other, isSent) : Fits(other, one, isSent))))
        {
            _breaks.Add($"{place}: {(isSent ? "no longer takes" : "may now be")} {Types(one).FirstOrDefault() ?? (string?)one["$ref"] ?? "another shape"}");
        }
    }

    private bool Fits(JsonNode before, JsonNode now, bool isSent)
    {
        var alone = new ContractBreaks(released, current);
        alone._compared.UnionWith(_compared);
        alone.CompareOne("", before, now, isSent);
        return alone._breaks.Count == 0;
    }

    private void CompareOne(string place, JsonNode before, JsonNode now, bool isSent)
    {
        HashSet<string> types = Types(before);
        HashSet<string> typesNow = Types(now);
        HashSet<string> narrow = isSent ? types : typesNow;
        HashSet<string> wide = isSent ? typesNow : types;
        if (wide.Count > 0 && (narrow.Count == 0 || !narrow.All(type => wide.Contains(type) || (type == "integer" && wide.Contains("number")))))
        {
            _breaks.Add($"{place}: its type was {string.Join(" or ", types)}, is {string.Join(" or ", typesNow)}");
        }

        CompareWords(place, before, now, isSent);
        if (isSent)
        {
            CompareBounds(place, before, now);
        }

        CompareFields(place, before, now, isSent);
        if (before["items"] is { } items)
        {
            CompareSchemas(place + "[]", items, now["items"], isSent);
        }

        if (before["additionalProperties"] is JsonObject values)
        {
            CompareSchemas(place + ".*", values, now["additionalProperties"] as JsonObject, isSent);
        }
    }

    // Words may come to answers: clients pass over those that they do not know. What could be sent must be taken.
    private void CompareWords(string place, JsonNode before, JsonNode now, bool isSent)
    {
        if (!isSent || now["enum"] is not JsonArray allowed)
        {
            return;
        }

        HashSet<string> words = [.. allowed.Select(word => word?.ToJsonString() ?? "null")];
        string[] gone = before["enum"] is JsonArray known ? [.. known.Select(word => word?.ToJsonString() ?? "null").Where(word => !words.Contains(word))] : ["any word"];
        _breaks.AddRange(gone.Select(word => $"{place}: {word} is no longer taken"));
    }

    private void CompareBounds(string place, JsonNode before, JsonNode now)
    {
        foreach ((string bound, int direction) in new[] { ("minimum", 1), ("minLength", 1), ("minItems", 1), ("maximum", -1), ("maxLength", -1), ("maxItems", -1) })
        {
            if (Number(now[bound]) is { } limit && (Number(before[bound]) is not { } earlier || direction * limit > direction * earlier))
            {
                _breaks.Add($"{place}: {bound} is {limit}, narrower than before");
            }
        }

        if (now["pattern"] is { } pattern && (string?)before["pattern"] != (string?)pattern)
        {
            _breaks.Add($"{place}: its pattern has changed");
        }
    }

    private void CompareFields(string place, JsonNode before, JsonNode now, bool isSent)
    {
        HashSet<string> required = [.. List(before["required"]).Select(name => (string)name!)];
        HashSet<string> requiredNow = [.. List(now["required"]).Select(name => (string)name!)];
        foreach ((string field, JsonNode? schema) in before["properties"]?.AsObject() ?? [])
        {
            if (now["properties"]?[field] is { } there)
            {
                CompareSchemas($"{place}.{field}", schema, there, isSent);
            }
            else
            {
                _breaks.Add($"{place}.{field} is gone");
            }
        }

        _breaks.AddRange(isSent
            ? requiredNow.Except(required).Select(field => $"{place}.{field} has become required")
            : required.Except(requiredNow).Where(field => now["properties"]?[field] is not null).Select(field => $"{place}.{field} may now be left out"));
    }

    private static JsonNode[] Branches(JsonNode schema, JsonNode document)
    {
        JsonNode resolved = Resolve(schema, document)!;
        return (resolved["oneOf"] ?? resolved["anyOf"]) is JsonArray choices
            ? [.. choices.SelectMany(choice => Branches(choice!, document))]
            : [resolved];
    }

    private static HashSet<string> Types(JsonNode schema) => schema["type"] switch
    {
        JsonArray several => [.. several.Select(type => (string)type!)],
        { } one => [(string)one!],
        null => [.. List(schema["enum"]).Select(word => word.GetValueKind() == System.Text.Json.JsonValueKind.String ? "string" : "number")],
    };

    private static JsonNode? Resolve(JsonNode? node, JsonNode document)
    {
        while ((string?)(node as JsonObject)?["$ref"] is { } reference)
        {
            node = reference.TrimStart('#', '/').Split('/').Aggregate(document, (at, name) => at[name]!);
        }

        return node;
    }

    private static IReadOnlyList<JsonNode> List(JsonNode? node) => node is JsonArray list ? [.. list.OfType<JsonNode>()] : [];

    private static bool IsTrue(JsonNode? node) => node is JsonValue value && value.TryGetValue(out bool truth) && truth;

    private static double? Number(JsonNode? node) => node is JsonValue value && value.TryGetValue(out double number) ? number : null;
}
