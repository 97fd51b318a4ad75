using Washwear.Api.Registry;
using Washwear.Dashboard.Search;

namespace Washwear.Api.Search;

/// <summary>Everything of the registry that can be found, of one version and one scope. Immutable.</summary>
internal sealed class SearchIndex
{
    private const int MostNearest = 5;

    private readonly SearchEntry[] _entries;

    /// <summary>Builds the index.</summary>
    /// <param name="registry">The registry.</param>
    public SearchIndex(RegistrySnapshot registry)
    {
        Registry = registry;
        _entries =
        [
            .. registry.UnitList.Select(Unit),
            .. registry.SiteList.Select(Site),
            .. registry.OperatorList.Select(Operator),
            .. Faults(registry),
            .. Positions(registry),
            .. Parts(registry),
        ];
    }

    /// <summary>The registry that it was built from.</summary>
    public RegistrySnapshot Registry { get; }

    /// <summary>Everything that matches, kind by kind, the best first.</summary>
    /// <param name="asked">What is searched for.</param>
    public IReadOnlyList<Found> Find(SearchTerms asked)
    {
        var found = new List<Found>();
        foreach (SearchEntry entry in _entries)
        {
            if (entry.Matches(asked) is { } match)
            {
                found.Add(new Found(entry, match.How, match.Field));
            }
        }

        found.Sort(static (one, other) =>
        {
            int order = one.Entry.Kind != other.Entry.Kind ? one.Entry.Kind.CompareTo(other.Entry.Kind) : one.How.CompareTo(other.How);
            return order != 0 ? order : string.CompareOrdinal(one.Entry.Fields[0].Folded, other.Entry.Fields[0].Folded);
        });
        return found;
    }

    /// <summary>What is spelled most alike, nearest first.</summary>
    /// <param name="asked">What is searched for.</param>
    public IReadOnlyList<Found> Nearest(SearchTerms asked)
    {
        int most = asked.Folded.Length switch { < 3 => 0, < 6 => 1, _ => 2 };
        return
        [
            .. _entries.Select(entry => (Entry: entry, Near: NearestField(entry, asked.Folded, most)))
                .Where(pair => pair.Near.Field is not null)
                .OrderBy(pair => pair.Near.Edits).ThenBy(pair => pair.Entry.Kind).ThenBy(pair => pair.Entry.Code, StringComparer.Ordinal)
                .Take(MostNearest)
                .Select(pair => new Found(pair.Entry, SearchMatch.Near, pair.Near.Field!)),
        ];
    }

    private static (int Edits, SearchField? Field) NearestField(SearchEntry entry, string asked, int most)
    {
        (int Edits, SearchField? Field) nearest = (most + 1, null);
        foreach (SearchField field in entry.Fields)
        {
            IEnumerable<string> spellings = field.IsCode ? [field.Folded] : field.Folded.Split(' ').Append(field.Folded);
            foreach (string spelling in spellings)
            {
                int edits = Spelling.Edits(asked, spelling, most);
                nearest = edits < nearest.Edits ? (edits, field) : nearest;
            }
        }

        return nearest;
    }

    private static SearchEntry Unit(UnitEntry unit) => new(
        SearchKind.Unit,
        unit.Resource.Unit,
        unit.Site.Resource.Name,
        unit,
        unit.Resource.Serial is { } serial ? [Code(SearchBy.AssetTag, unit.Resource.Unit), Code(SearchBy.SerialNumber, serial)] : [Code(SearchBy.AssetTag, unit.Resource.Unit)],
        Around(unit.Site.Resource.Name, unit.Site.Resource.Site, unit.Model.Resource.Model, unit.Site.Operator.Resource.Name));

    private static SearchEntry Site(SiteEntry site) => new(
        SearchKind.Site,
        site.Resource.Site,
        site.Resource.Name,
        site,
        [Code(SearchBy.Code, site.Resource.Site), new SearchField(SearchBy.Name, site.Resource.Name, false)],
        Around(site.Operator.Resource.Name, site.Operator.Resource.Operator, site.Resource.Region));

    private static SearchEntry Operator(OperatorEntry one) => new(
        SearchKind.Operator,
        one.Resource.Operator,
        one.Resource.Name,
        one,
        [Code(SearchBy.Code, one.Resource.Operator), new SearchField(SearchBy.Name, one.Resource.Name, false)],
        string.Empty);

    // One code may stand in the catalogues of several models.
    private static IEnumerable<SearchEntry> Faults(RegistrySnapshot registry) =>
        registry.ModelList.SelectMany(model => model.Resource.Faults, (model, fault) => new FaultOfModel(model, fault))
            .GroupBy(one => one.Fault.Code, StringComparer.OrdinalIgnoreCase)
            .Select(code => new SearchEntry(
                SearchKind.Fault,
                code.First().Fault.Code,
                code.First().Fault.Text,
                code.ToArray(),
                [Code(SearchBy.Code, code.Key), .. code.Select(one => one.Fault.Text).Distinct(StringComparer.Ordinal).Select(text => new SearchField(SearchBy.Text, text, false))],
                Around([.. code.Select(one => one.Model.Resource.Model)])));

    private static IEnumerable<SearchEntry> Positions(RegistrySnapshot registry) =>
        registry.ModelList.SelectMany(model => model.Resource.Positions, (model, position) => new PositionOfModel(model, position))
            .GroupBy(one => one.Position.Position, StringComparer.OrdinalIgnoreCase)
            .Select(code => new SearchEntry(
                SearchKind.Position,
                code.First().Position.Position,
                code.First().Position.Name,
                code.ToArray(),
                [Code(SearchBy.Code, code.Key), .. code.Select(one => one.Position.Name).Distinct(StringComparer.Ordinal).Select(name => new SearchField(SearchBy.Name, name, false))],
                Around([.. code.Select(one => one.Model.Resource.Model)])));

    private static IEnumerable<SearchEntry> Parts(RegistrySnapshot registry)
    {
        ILookup<string, PositionOfModel> fits = registry.ModelList
            .SelectMany(model => model.Resource.Positions, (model, position) => new PositionOfModel(model, position))
            .SelectMany(one => one.Position.PartNumbers ?? [], (one, number) => (number, one))
            .ToLookup(pair => pair.number, pair => pair.one, StringComparer.OrdinalIgnoreCase);
        return registry.Plan.PartList.Select(part => part.PartNumber).Concat(fits.Select(number => number.Key))
            .Distinct(StringComparer.OrdinalIgnoreCase)
            .Select(number => Part(number, registry.Plan.Parts.GetValueOrDefault(number), [.. fits[number]]));
    }

    private static SearchEntry Part(string number, PartResource? part, PositionOfModel[] fits)
    {
        string name = part?.Name ?? fits[0].Position.Name;
        return new SearchEntry(
            SearchKind.Part, number, name, new PartThatFits(number, part, fits), [Code(SearchBy.Number, number), new SearchField(SearchBy.Name, name, false)],
            Around([.. fits.Select(one => one.Position.Name)]));
    }

    private static SearchField Code(SearchBy by, string code) => new(by, code, true);

    private static string Around(params string?[] texts) => string.Join('\n', texts.OfType<string>().Select(Spelling.Fold));
}

/// <summary>Something found.</summary>
/// <param name="Entry">What.</param>
/// <param name="How">How it matches.</param>
/// <param name="Field">The text that does.</param>
internal sealed record Found(SearchEntry Entry, SearchMatch How, SearchField Field);

/// <summary>A fault of a model's catalogue.</summary>
internal sealed record FaultOfModel(ModelEntry Model, FaultResource Fault);

/// <summary>A position of a model.</summary>
internal sealed record PositionOfModel(ModelEntry Model, PositionResource Position);

/// <summary>A part number, what is known of it and where it fits.</summary>
internal sealed record PartThatFits(string Number, PartResource? Part, IReadOnlyList<PositionOfModel> Fits);
