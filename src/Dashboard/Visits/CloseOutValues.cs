namespace Washwear.Dashboard.Visits;

/// <summary>What has been entered in the form, by the name of its field. Immutable.</summary>
/// <param name="fields">Values by field; the order of several values of a field is kept.</param>
public sealed class CloseOutValues(IReadOnlyDictionary<string, IReadOnlyList<string>> fields)
{
    /// <summary>Nothing entered.</summary>
    public static CloseOutValues None { get; } = new(new Dictionary<string, IReadOnlyList<string>>());

    /// <summary>Names of the fields that were sent.</summary>
    public IEnumerable<string> Names => fields.Keys;

    /// <summary>What stands in a field, without blanks at its ends.</summary>
    /// <param name="field">Name of the field.</param>
    /// <returns>The text; null when there is none.</returns>
    public string? Of(string field) =>
        fields.TryGetValue(field, out IReadOnlyList<string>? values) && values.Count > 0 && values[0].Trim() is { Length: > 0 } text ? text : null;

    /// <summary>All values of a field.</summary>
    /// <param name="field">Name of the field.</param>
    /// <returns>The values that are not blank, in their order, each once.</returns>
    public IReadOnlyList<string> All(string field) => fields.TryGetValue(field, out IReadOnlyList<string>? values)
        ? [.. values.Select(value => value.Trim()).Where(value => value.Length > 0).Distinct(StringComparer.Ordinal)]
        : [];

    /// <summary>Whether a choice of a field is made.</summary>
    /// <param name="field">Name of the field.</param>
    /// <param name="choice">The choice; empty: none is made.</param>
    /// <returns>True where it is.</returns>
    public bool Is(string field, string choice) =>
        choice.Length == 0 ? Of(field) is null : All(field).Contains(choice, StringComparer.Ordinal);
}
