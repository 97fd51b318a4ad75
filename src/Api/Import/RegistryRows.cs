using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>Makes resources of rows. What a row does not tell stays as the registry has it; several rows may tell of one resource. Not safe
/// for concurrent use.</summary>
/// <param name="cells">Reads the cells.</param>
/// <param name="registry">The registry.</param>
internal sealed class RegistryRows(RowCells cells, RegistrySnapshot registry)
{
    private readonly KnownCodes _known = KnownOf(registry);
    private readonly Dictionary<string, object> _touched = new(StringComparer.Ordinal);
    private readonly HashSet<string> _changed = new(StringComparer.Ordinal);

    /// <summary>Resources that rows told of since the last time that it was asked for.</summary>
    public RegistryDocument Take()
    {
        object[] changed = [.. _changed.Select(key => _touched[key])];
        _changed.Clear();
        return new RegistryDocument(
            [.. changed.OfType<OperatorResource>()],
            [.. changed.OfType<SiteResource>()],
            [.. changed.OfType<ModelResource>()],
            [.. changed.OfType<UnitResource>()],
            [.. changed.OfType<RuleResource>()]);
    }

    /// <summary>Reads a row.</summary>
    /// <param name="row">The row.</param>
    /// <returns>Code of its resource, as far as it is told, and why the row is refused; null: it is not.</returns>
    public (string? Code, RowProblem? Problem) Read(SheetRow row)
    {
        cells.Begin(row);
        string? code = cells.Text(cells.Kind.Find(cells.Kind.Name)!, null)?.Trim();
        if (string.IsNullOrEmpty(code))
        {
            return (null, cells.Problem ?? new RowProblem(cells.Kind.Name, "missing", $"The row names no {cells.Kind.Name}.", "Give it a code."));
        }

        object? before = _touched.GetValueOrDefault(Codes.Key(code)) ?? Stored(code);
        JsonObject told = before is null ? Fresh() : JsonSerializer.SerializeToNode(before, before.GetType(), Json.Options)!.AsObject();
        told[cells.Kind.Name] ??= code;
        foreach (ImportField field in cells.Kind.Fields.Where(field => field.Name != cells.Kind.Name))
        {
            Set(told, field);
        }

        if (cells.Kind.Name == "model")
        {
            ModelParts.Add(told, cells);
        }

        if (cells.Problem is { } unreadable)
        {
            return (code, unreadable);
        }

        return Judge(code, told);
    }

    private (string? Code, RowProblem? Problem) Judge(string code, JsonObject told)
    {
        JsonElement element = JsonSerializer.SerializeToElement(told, Json.Options);
        if (JsonShape.Check(element, Shape) is [var wrong, ..])
        {
            return (code, RowProblem.Of(wrong));
        }

        object resource = element.Deserialize(Shape, Json.Options)!;
        if (RegistryRules.Check(resource, _known) is [var broken, ..])
        {
            return (code, RowProblem.Of(broken));
        }

        // Against those of the sheet too: two rows for the same wash contradict each other.
        if (resource is RuleResource rule
            && RuleOverlaps.Find([.. _touched.Values.OfType<RuleResource>().Where(other => Codes.Key(other.Rule) != Codes.Key(code)), rule], registry, _ => string.Empty) is { Count: > 0 } rivals)
        {
            return (code, RowProblem.Of(rivals[^1]));
        }

        _touched[Codes.Key(code)] = resource;
        _changed.Add(Codes.Key(code));
        return (code, null);
    }

    private Type Shape => cells.Kind.Name switch
    {
        "operator" => typeof(OperatorResource),
        "site" => typeof(SiteResource),
        "model" => typeof(ModelResource),
        "rule" => typeof(RuleResource),
        _ => typeof(UnitResource),
    };

    private object? Stored(string code) => cells.Kind.Name switch
    {
        "operator" => registry.Operators.GetValueOrDefault(code)?.Resource,
        "site" => registry.Sites.GetValueOrDefault(code)?.Resource,
        "model" => registry.Models.GetValueOrDefault(code)?.Resource,
        "rule" => registry.Rules.GetValueOrDefault(code)?.Resource,
        _ => registry.Units.GetValueOrDefault(code)?.Resource,
    };

    private JsonObject Fresh() => cells.Kind.Name switch
    {
        "model" => new JsonObject { ["kind"] = "combi oven", ["positions"] = new JsonArray(), ["programmes"] = new JsonArray(), ["faults"] = new JsonArray() },
        "rule" => new JsonObject { ["scope"] = new JsonObject() },
        _ => [],
    };

    private void Set(JsonObject told, ImportField field)
    {
        if (cells.Kind.Name == "model" && field.Name is not ("name" or "kind"))
        {
            return;
        }

        if (field.Name is "weekdays" or "ends_at")
        {
            SetTradingDays(told, field);
        }
        else if (cells.Text(field, null) is { } value)
        {
            const string Scope = "scope.";
            (JsonObject place, string name) = field.Name.StartsWith(Scope, StringComparison.Ordinal)
                ? (told["scope"]!.AsObject(), field.Name[Scope.Length..])
                : (told, field.Name);
            place[name] = field.Role == FieldRole.Number && double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? number : value;
        }
    }

    private void SetTradingDays(JsonObject told, ImportField field)
    {
        if (cells.Cell(field.Name).IsEmpty)
        {
            return;
        }

        JsonObject days = told["trading_days"] as JsonObject ?? new JsonObject
        {
            ["weekdays"] = new JsonArray("mon", "tue", "wed", "thu", "fri", "sat", "sun"),
            ["ends_at"] = "00:00",
        };
        told["trading_days"] = days;
        days[field.Name] = field.Name == "ends_at"
            ? cells.Text(field, null)
            : new JsonArray([.. cells.Several(field, null).Select(day => (JsonNode)JsonValue.Create(day.Length > 3 ? day[..3].ToLowerInvariant() : day.ToLowerInvariant()))]);
    }

    private static KnownCodes KnownOf(RegistrySnapshot registry)
    {
        var known = new KnownCodes();
        known.AddAll(registry);
        return known;
    }

    /// <summary>Positions, programmes and faults of a model, one a row.</summary>
    private static class ModelParts
    {
        private static readonly (string Field, string Target)[] OfPosition =
            [("position_name", "name"), ("replace_minutes", "replace_minutes"), ("part_cost", "part_cost"), ("failure_modes", "failure_modes"), ("part_numbers", "part_numbers")];

        private static readonly (string Field, string Target)[] OfProgramme = [("grade", "grade"), ("minutes", "minutes")];
        private static readonly (string Field, string Target)[] OfFault = [("fault_text", "text"), ("locks_out_washing", "locks_out_washing")];

        public static void Add(JsonObject model, RowCells cells)
        {
            Add(model, "positions", "position", cells, "position", OfPosition, code => new JsonObject { ["position"] = code, ["name"] = code });
            Add(model, "programmes", "programme", cells, "programme", OfProgramme, code => new JsonObject { ["programme"] = code });
            Add(model, "faults", "code", cells, "fault", OfFault, code => new JsonObject { ["code"] = code, ["text"] = code });
        }

        private static void Add(
            JsonObject model, string list, string name, RowCells cells, string field, (string Field, string Target)[] details, Func<string, JsonObject> fresh)
        {
            if (cells.Text(cells.Kind.Find(field)!, null) is not { Length: > 0 } code)
            {
                return;
            }

            JsonArray items = model[list]!.AsArray();
            JsonObject? item = items.OfType<JsonObject>().FirstOrDefault(one => string.Equals((string?)one[name], code, StringComparison.OrdinalIgnoreCase));
            if (item is null)
            {
                item = fresh(code);
                items.Add(item);
            }

            foreach ((string from, string target) in details)
            {
                ImportField told = cells.Kind.Find(from)!;
                if (Value(cells, told) is { } value)
                {
                    item[target] = value;
                }
            }
        }

        private static JsonNode? Value(RowCells cells, ImportField field) =>
            field.Role == FieldRole.Codes
                ? cells.Several(field, null) is { Count: > 0 } several ? new JsonArray([.. several.Select(one => (JsonNode)JsonValue.Create(one))]) : null
                : cells.Text(field, null) is not { } text ? null
                : field.Role switch
                {
                    FieldRole.Number when double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) => JsonValue.Create(number),
                    FieldRole.YesNo => JsonValue.Create(text == "true"),
                    _ => JsonValue.Create(text),
                };
    }
}
