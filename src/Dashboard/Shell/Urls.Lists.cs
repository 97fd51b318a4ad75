using Microsoft.AspNetCore.WebUtilities;

namespace Washwear.Dashboard.Shell;

/// <summary>Links of lists: the same address with another order, page or form.</summary>
public static partial class Urls
{
    /// <summary>An address with some of its choices changed.</summary>
    /// <param name="address">Path and query.</param>
    /// <param name="changed">Names and values; null takes a choice away.</param>
    /// <returns>The address; choices that are not changed stay, in their order.</returns>
    public static string With(string address, params (string Name, string? Value)[] changed)
    {
        ArgumentNullException.ThrowIfNull(address);
        string[] parts = address.Split('?', 2);
        IEnumerable<(string Name, string? Value)> kept = QueryHelpers.ParseQuery(parts.Length == 1 ? null : parts[1])
            .SelectMany(pair => pair.Value, (pair, value) => (pair.Key, value))
            .Where(pair => !changed.Any(one => one.Name == pair.Key));
        return Query(parts[0], [.. kept.Select(pair => (Uri.EscapeDataString(pair.Name), pair.Value)), .. changed]);
    }

    /// <summary>A choice of an address.</summary>
    /// <param name="address">Path and query.</param>
    /// <param name="name">Name of the choice.</param>
    /// <returns>Its value; null where it is left out or empty.</returns>
    public static string? Asked(string address, string name)
    {
        ArgumentNullException.ThrowIfNull(address);
        string[] parts = address.Split('?', 2);
        return parts.Length == 2 && QueryHelpers.ParseQuery(parts[1]).TryGetValue(name, out var values) && values.ToString() is { Length: > 0 } value ? value : null;
    }
}
