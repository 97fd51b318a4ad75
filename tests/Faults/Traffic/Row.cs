using System.Globalization;

namespace Washwear.Faults.Traffic;

/// <summary>A record that was made, with what the ledger has to say of it once it was acknowledged.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Type">Its type.</param>
/// <param name="Json">The record as it is sent.</param>
/// <param name="Facts">What the ledger's columns have to hold, see <see cref="Join"/>.</param>
/// <param name="Takes">Key of the record of the same source that no longer counts because of it; null: none.</param>
internal sealed record Row(string Key, string Type, string Json, string Facts, string? Takes)
{
    /// <summary>Values of columns as one text.</summary>
    /// <param name="values">The values; null is empty.</param>
    public static string Join(params IEnumerable<object?> values) => string.Join('|', values.Select(value => value switch
    {
        null or DBNull => string.Empty,
        bool yes => yes ? "1" : "0",
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture),
    }));
}
