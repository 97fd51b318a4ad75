namespace Washwear.Dashboard.Shell;

/// <summary>What can be chosen in each field of the preferences.</summary>
public static class PreferenceWords
{
    private static readonly Dictionary<string, IReadOnlyList<string>> Known = new()
    {
        ["role"] = ["all", "technician", "service", "operator", "planner"],
        ["culture"] = [.. ReadingCulture.All.Select(culture => culture.Code)],
        ["language"] = [.. ReaderPreferences.Languages.Select(language => language.Code)],
        ["volume"] = ["litres", "gallons"],
        ["temperature"] = ["celsius", "fahrenheit"],
        ["hardness"] = ["mg_per_l", "grains_per_gallon", "german_degrees", "french_degrees"],
        ["first_day"] = ["monday", "saturday", "sunday"],
        ["clock"] = ["24", "12"],
    };

    /// <summary>Codes that can be chosen in a field.</summary>
    /// <param name="field">Name of the field.</param>
    /// <returns>Codes; null where it is no field with a list of them.</returns>
    public static IReadOnlyList<string>? Codes(string field) => Known.GetValueOrDefault(field);
}
