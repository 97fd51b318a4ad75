using System.Globalization;

namespace Washwear.Api.Storage;

/// <summary>What a scope is drawn around.</summary>
public enum DataScopeKind
{
    /// <summary>Whole operators: their sites and all units there.</summary>
    Operators,

    /// <summary>Whole sites: all units there.</summary>
    Sites,

    /// <summary>Some units; their sites can be seen, the other units there cannot.</summary>
    Units,
}

/// <summary>Part of the data that a connection sees; a row outside of it does not exist there. No scope at all (null) is everything.</summary>
/// <remarks>A scope goes by numbers of the registry as it stands when something is read: a unit that moves takes its whole history along.
/// Equal for equal kinds and numbers.</remarks>
public sealed record DataScope
{
    // What SQL Server takes as one value of a session.
    private const int MostCharacters = 4000;

    private DataScope(DataScopeKind kind, IEnumerable<long> ids)
    {
        Kind = kind;
        Ids = [.. ids.Distinct().Order()];
        Numbers = string.Join(',', Ids.Select(id => id.ToString(CultureInfo.InvariantCulture)));
        if (Numbers.Length + 2 > MostCharacters)
        {
            throw new ArgumentException($"A scope of {Ids.Count} {Kind} is too long.", nameof(ids));
        }
    }

    /// <summary>What the scope is drawn around.</summary>
    public DataScopeKind Kind { get; }

    /// <summary>Numbers of the operators, sites or units, in their order.</summary>
    public IReadOnlyList<long> Ids { get; }

    /// <summary>The numbers in a row, separated by commas; digits alone, so it can stand in a statement.</summary>
    internal string Numbers { get; }

    /// <summary>Operators, with all their sites and units.</summary>
    /// <param name="ids">Their numbers in the database; their order does not count. None: nothing but what everybody may read.</param>
    /// <exception cref="ArgumentException">There are too many (500 are not).</exception>
    public static DataScope OfOperators(IEnumerable<long> ids) => new(DataScopeKind.Operators, ids);

    /// <summary>Sites, with all their units.</summary>
    /// <param name="ids">As of operators.</param>
    /// <exception cref="ArgumentException">There are too many (500 are not).</exception>
    public static DataScope OfSites(IEnumerable<long> ids) => new(DataScopeKind.Sites, ids);

    /// <summary>Units.</summary>
    /// <param name="ids">As of operators.</param>
    /// <exception cref="ArgumentException">There are too many (500 are not).</exception>
    public static DataScope OfUnits(IEnumerable<long> ids) => new(DataScopeKind.Units, ids);

    /// <inheritdoc/>
    public bool Equals(DataScope? other) => other is not null && Kind == other.Kind && Numbers == other.Numbers;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Kind, Numbers);

    /// <summary>Such as 'operators 3,7'.</summary>
    public override string ToString() => FormattableString.Invariant($"{Kind.ToString().ToLowerInvariant()} {Numbers}");
}
