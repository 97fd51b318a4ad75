using Washwear.Api.Import.Guessing;
using Washwear.Api.Registry;

namespace Washwear.Api.Import;

/// <summary>Finds codes of the registry that a sheet spells in its own way: another case, other separators, a serial number instead of the
/// asset tag, a position by its name. A spelling that could mean two codes means none.</summary>
/// <param name="registry">The registry.</param>
internal sealed class CodeBook(RegistrySnapshot registry)
{
    private readonly Dictionary<string, Spellings> _kinds = new(StringComparer.Ordinal);
    private readonly Dictionary<(ModelEntry Model, string Kind), Spellings> _models = [];

    /// <summary>The registry.</summary>
    public RegistrySnapshot Registry => registry;

    /// <summary>The code that a spelling means; null: none is known.</summary>
    /// <param name="kind">Kind of code: unit, site, operator, model, position, fault, programme or part.</param>
    /// <param name="spelling">How the sheet spells it.</param>
    /// <param name="model">Model whose positions, faults and programmes count; null: those of all models.</param>
    public string? Find(string kind, string spelling, ModelEntry? model = null) => Of(kind, model).Find(spelling);

    private Spellings Of(string kind, ModelEntry? model)
    {
        if (model is not null && kind is "position" or "fault" or "programme")
        {
            if (!_models.TryGetValue((model!, kind), out Spellings? own))
            {
                _models[(model!, kind)] = own = new Spellings(OfModel(kind, model!.Resource), []);
            }

            return own;
        }

        if (!_kinds.TryGetValue(kind, out Spellings? all))
        {
            _kinds[kind] = all = kind == "unit"
                ? new Spellings(registry.UnitList.Select(unit => (unit.Resource.Unit, unit.Resource.Unit)), registry.UnitList.Where(unit => unit.Resource.Serial is not null).Select(unit => (unit.Resource.Serial!, unit.Resource.Unit)))
                : new Spellings(OfAll(kind), []);
        }

        return all;
    }

    private IEnumerable<(string Spelling, string Code)> OfAll(string kind) => kind switch
    {
        "operator" => registry.OperatorList.Select(one => (one.Resource.Operator, one.Resource.Operator)),
        "site" => registry.SiteList.Select(one => (one.Resource.Site, one.Resource.Site)),
        "model" => registry.ModelList.Select(one => (one.Resource.Model, one.Resource.Model)),
        "part" => registry.Plan.PartList.Select(part => (part.PartNumber, part.PartNumber))
            .Concat(registry.ModelList.SelectMany(model => model.Resource.Positions).SelectMany(position => position.PartNumbers ?? []).Select(part => (part, part))),
        _ => registry.ModelList.SelectMany(model => OfModel(kind, model.Resource)),
    };

    private static IEnumerable<(string Spelling, string Code)> OfModel(string kind, ModelResource model) => kind switch
    {
        "position" => model.Positions.Select(one => (one.Position, one.Position)).Concat(model.Positions.Select(one => (one.Name, one.Position))),
        "fault" => model.Faults.Select(one => (one.Code, one.Code)),
        "programme" => model.Programmes.Select(one => (one.Programme, one.Programme)),
        _ => [],
    };

    private sealed class Spellings
    {
        private readonly Dictionary<string, string> _exact = new(StringComparer.OrdinalIgnoreCase);
        private readonly Dictionary<string, string?> _loose = new(StringComparer.Ordinal);

        // What is written first goes before: a serial number is looked for only where no asset tag is meant.
        public Spellings(IEnumerable<(string Spelling, string Code)> first, IEnumerable<(string Spelling, string Code)> then)
        {
            Add(first, _loose);
            var behind = new Dictionary<string, string?>(StringComparer.Ordinal);
            Add(then, behind);
            foreach ((string spelling, string? code) in behind)
            {
                _loose.TryAdd(spelling, code);
            }
        }

        public string? Find(string spelling) =>
            _exact.TryGetValue(spelling, out string? exact) ? exact
            : Loose(spelling) is { Length: > 0 } loose ? _loose.GetValueOrDefault(loose)
            : null;

        // A spreadsheet that takes 0012 for a number writes 12.
        private static string Loose(string spelling) =>
            Headings.Compact(spelling) is var compact && compact.All(char.IsAsciiDigit) ? compact.TrimStart('0') : compact;

        private void Add(IEnumerable<(string Spelling, string Code)> pairs, Dictionary<string, string?> loose)
        {
            foreach ((string spelling, string code) in pairs)
            {
                _exact.TryAdd(spelling, code);
                string compact = Loose(spelling);
                if (compact.Length > 0 && !loose.TryAdd(compact, code) && !string.Equals(loose[compact], code, StringComparison.OrdinalIgnoreCase))
                {
                    loose[compact] = null;
                }
            }
        }
    }
}
