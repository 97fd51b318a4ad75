using System.Text.Json;
using NodaTime;

namespace Washwear.Dashboard.Shell;

/// <summary>What somebody has chosen of how they like to read; what is left out goes by the browser's languages, else by what everybody gets.</summary>
/// <param name="Role">Whose questions the first page answers first: all, technician, service, operator or planner.</param>
/// <param name="Culture">Country whose way of writing numbers and dates is used, as a language tag such as en-US.</param>
/// <param name="Language">Language of pages: en or de.</param>
/// <param name="Volume">In what volumes are read: litres or gallons (US).</param>
/// <param name="Temperature">In what temperatures are read: celsius or fahrenheit.</param>
/// <param name="Hardness">In what the hardness of water is read: mg_per_l (as calcium carbonate), grains_per_gallon, german_degrees or french_degrees.</param>
/// <param name="FirstDay">Day on which a week begins: monday, saturday or sunday.</param>
/// <param name="Clock">How many hours a clock counts to: 24 or 12.</param>
/// <param name="TimeZone">IANA time zone in which all instants are told; left out: that of the site.</param>
public sealed record PreferenceChoice(
    string? Role = null,
    string? Culture = null,
    string? Language = null,
    string? Volume = null,
    string? Temperature = null,
    string? Hardness = null,
    string? FirstDay = null,
    string? Clock = null,
    string? TimeZone = null)
{
    /// <summary>Nothing chosen.</summary>
    public static PreferenceChoice None { get; } = new();

    /// <summary>Every field with its name and its value, in the order of the form.</summary>
    /// <returns>Pairs; a value is null where nothing is chosen.</returns>
    public IReadOnlyList<(string Field, string? Value)> Fields() =>
    [
        ("role", Role), ("culture", Culture), ("language", Language), ("volume", Volume), ("temperature", Temperature), ("hardness", Hardness),
        ("first_day", FirstDay), ("clock", Clock), ("time_zone", TimeZone),
    ];

    /// <summary>Puts a choice together.</summary>
    /// <param name="value">Value by the name of its field; null or empty: nothing is chosen.</param>
    /// <returns>The choice, not judged yet.</returns>
    public static PreferenceChoice Of(Func<string, string?> value)
    {
        ArgumentNullException.ThrowIfNull(value);
        string? Given(string field) => value(field)?.Trim() is { Length: > 0 } given ? given : null;
        return new(
            Given("role"), Given("culture"), Given("language"), Given("volume"), Given("temperature"), Given("hardness"), Given("first_day"),
            Given("clock"), Given("time_zone"));
    }

    /// <summary>Fields whose value is none that can be chosen, with those that can.</summary>
    /// <returns>Pairs of field and what can be chosen; empty where all is well.</returns>
    public IReadOnlyList<(string Field, string Choices)> Wrong() =>
    [
        .. Fields().Where(field => field.Value is not null && PreferenceWords.Codes(field.Field) is { } codes && !codes.Contains(field.Value))
            .Select(field => (field.Field, string.Join(", ", PreferenceWords.Codes(field.Field)!))),
        .. TimeZone is not null && DateTimeZoneProviders.Tzdb.GetZoneOrNull(TimeZone) is null
            ? [("time_zone", "names of IANA time zones, such as Europe/Vienna")]
            : Array.Empty<(string, string)>(),
    ];

    /// <summary>The choice in one short text, as it is kept; fields that are not chosen are left out.</summary>
    /// <returns>Such as 'culture=en-US volume=gallons'.</returns>
    public string Kept() => string.Join(' ', Fields().Where(field => field.Value is not null).Select(field => field.Field + "=" + field.Value));

    /// <summary>Reads a choice that was kept; what cannot be chosen (any more) is left out.</summary>
    /// <param name="kept">The text; null: nothing was.</param>
    /// <returns>The choice.</returns>
    public static PreferenceChoice Read(string? kept)
    {
        if (string.IsNullOrEmpty(kept) || kept.Length > 500)
        {
            return None;
        }

        Dictionary<string, string> values = [];
        foreach (string[] pair in kept.Split(' ').Select(field => field.Split('=', 2)).Where(pair => pair.Length == 2))
        {
            values[pair[0]] = pair[1];
        }

        PreferenceChoice read = Of(values.GetValueOrDefault);
        HashSet<string> wrong = [.. read.Wrong().Select(field => field.Field)];
        return wrong.Count == 0 ? read : Of(field => wrong.Contains(field) ? null : values.GetValueOrDefault(field));
    }

    /// <summary>How somebody reads who has chosen this and whose browser asks for these languages.</summary>
    /// <param name="asked">Tags of languages, the best first.</param>
    /// <returns>Preferences without gaps.</returns>
    public ReaderPreferences For(IReadOnlyList<string> asked)
    {
        ArgumentNullException.ThrowIfNull(asked);
        ReadingCulture culture = ReadingCulture.Find(Culture) ?? asked.Select(ReadingCulture.Nearest).OfType<ReadingCulture>().FirstOrDefault()
            ?? ReadingCulture.Standard;
        return new ReaderPreferences
        {
            Role = Read(Role, ReaderRole.All),
            Culture = culture,
            Language = Language ?? asked.Select(tag => tag.Split('-')[0].ToLowerInvariant()).FirstOrDefault(IsLanguage) ?? ReaderPreferences.English,
            Volume = Read(Volume, VolumeUnit.Litres),
            Temperature = Read(Temperature, TemperatureUnit.Celsius),
            Hardness = Read(Hardness, HardnessUnit.MgPerL),
            FirstDay = Read(FirstDay, culture.FirstDay),
            TwelveHour = Clock is null ? culture.TwelveHour : Clock == "12",
            TimeZone = TimeZone,
        };
    }

    /// <summary>What holds for somebody, as if all of it had been chosen.</summary>
    /// <param name="reader">How they read.</param>
    /// <returns>A choice without gaps, but for the time zone of the site.</returns>
    public static PreferenceChoice Holding(ReaderPreferences reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        return new(
            Code(reader.Role), reader.Culture.Code, reader.Language, Code(reader.Volume), Code(reader.Temperature), Code(reader.Hardness),
            Code(reader.FirstDay), reader.TwelveHour ? "12" : "24", reader.TimeZone);
    }

    private static string Code<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());

    private static bool IsLanguage(string code) => ReaderPreferences.Languages.Any(language => language.Code == code);

    private static T Read<T>(string? code, T otherwise)
        where T : struct, Enum => Enum.TryParse(code?.Replace("_", string.Empty, StringComparison.Ordinal), ignoreCase: true, out T read) ? read : otherwise;
}
