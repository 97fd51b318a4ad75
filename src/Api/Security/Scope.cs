using Washwear.Api.Registry;
using Washwear.Dashboard.People;

namespace Washwear.Api.Security;

/// <summary>By what a scope picks its units.</summary>
public enum ScopeKind
{
    /// <summary>Nothing is left out.</summary>
    Everything,

    /// <summary>The units of whole operators.</summary>
    Operators,

    /// <summary>The units of single sites.</summary>
    Sites,

    /// <summary>Single units.</summary>
    Units,
}

/// <summary>Which part of the fleet a key or a person sees; what lies outside does not exist for them.</summary>
/// <remarks>Codes are looked up at each request: a unit that moves to another operator moves, with its history, to who may see that one.</remarks>
public sealed class Scope : IEquatable<Scope>
{
    /// <summary>The whole fleet.</summary>
    public static readonly Scope Everything = new(ScopeKind.Everything, []);

    /// <summary>Nothing at all: what a caller has whose scope cannot be read.</summary>
    public static readonly Scope Nothing = new(ScopeKind.Units, []);

    /// <summary>Most codes in one scope.</summary>
    public const int MostCodes = 500;

    // No code contains it: codes have no control characters.
    private const char Separator = '\n';

    private Scope(ScopeKind kind, IReadOnlyList<string> codes)
    {
        Kind = kind;
        Codes = codes;
    }

    /// <summary>By what it picks.</summary>
    public ScopeKind Kind { get; }

    /// <summary>Codes of the operators or sites, or asset tags, in order; none for everything.</summary>
    public IReadOnlyList<string> Codes { get; }

    /// <summary>Makes a scope.</summary>
    /// <param name="kind">By what it picks.</param>
    /// <param name="codes">The codes, 1 to 500; none for everything.</param>
    /// <returns>Null: the codes do not fit the kind, or one of them can be no code.</returns>
    public static Scope? Of(ScopeKind kind, IEnumerable<string> codes)
    {
        string[] sorted = [.. codes.Distinct(StringComparer.OrdinalIgnoreCase).Order(StringComparer.OrdinalIgnoreCase)];
        if (kind == ScopeKind.Everything)
        {
            return sorted.Length == 0 ? Everything : null;
        }

        return sorted.Length is > 0 and <= MostCodes && sorted.All(Registry.Codes.IsValid) ? new Scope(kind, sorted) : null;
    }

    /// <summary>Reads what <see cref="ToString"/> wrote.</summary>
    /// <param name="text">The text.</param>
    /// <returns>Null: it cannot be read; whoever has it sees nothing.</returns>
    public static Scope? Parse(string text)
    {
        // Asked of every request, and mostly this.
        if (text == Word(ScopeKind.Everything))
        {
            return Everything;
        }

        string[] parts = text.Split(Separator);
        return KindOf(parts[0]) is { } kind ? Of(kind, parts[1..]) : null;
    }

    /// <summary>Whether all that another scope shows is in this one too, as far as the codes tell by themselves.</summary>
    /// <param name="other">The other.</param>
    /// <param name="registry">Tells the site of a unit and the operator of a site.</param>
    public bool Includes(Scope other, RegistrySnapshot registry) =>
        Kind == ScopeKind.Everything
        || (other.Kind != ScopeKind.Everything && other.Codes.All(code => Has(other.Kind, code, registry)));

    /// <summary>The scope as it is stored: its kind and its codes, one a line.</summary>
    public override string ToString() => string.Join(Separator, [Word(Kind), .. Codes]);

    /// <summary>The scope for people: 'everything', or its kind and codes.</summary>
    public string InWords() => PeopleWords.Scope(new ScopeEntry(Word(Kind), Codes));

    /// <inheritdoc/>
    public bool Equals(Scope? other) => other is not null && string.Equals(ToString(), other.ToString(), StringComparison.OrdinalIgnoreCase);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as Scope);

    /// <inheritdoc/>
    public override int GetHashCode() => StringComparer.OrdinalIgnoreCase.GetHashCode(ToString());

    private static string Word(ScopeKind kind) => kind switch
    {
        ScopeKind.Operators => "operators",
        ScopeKind.Sites => "sites",
        ScopeKind.Units => "units",
        _ => "everything",
    };

    private static ScopeKind? KindOf(string word) => Enum.GetValues<ScopeKind>().Cast<ScopeKind?>().FirstOrDefault(kind => Word(kind!.Value) == word);

    private bool Has(ScopeKind kind, string code, RegistrySnapshot registry)
    {
        if (kind == Kind)
        {
            return Codes.Contains(code, StringComparer.OrdinalIgnoreCase);
        }

        return kind switch
        {
            ScopeKind.Units => registry.Units.TryGetValue(code, out UnitEntry? unit) && Has(ScopeKind.Sites, unit.Resource.Site, registry),
            ScopeKind.Sites => Kind == ScopeKind.Operators && registry.Sites.TryGetValue(code, out SiteEntry? site)
                && Has(ScopeKind.Operators, site.Resource.Operator, registry),
            _ => false,
        };
    }
}
