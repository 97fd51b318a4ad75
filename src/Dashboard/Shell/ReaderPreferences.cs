using System.Globalization;
using NodaTime;

namespace Washwear.Dashboard.Shell;

/// <summary>Whose questions the first page answers first.</summary>
public enum ReaderRole
{
    /// <summary>Everybody's.</summary>
    All,

    /// <summary>Who goes to the ovens.</summary>
    Technician,

    /// <summary>Who sends technicians.</summary>
    Service,

    /// <summary>Whose kitchens they are.</summary>
    Operator,

    /// <summary>Who plans visits and parts.</summary>
    Planner,
}

/// <summary>In what a volume is read.</summary>
public enum VolumeUnit
{
    /// <summary>Litres.</summary>
    Litres,

    /// <summary>US liquid gallons.</summary>
    Gallons,
}

/// <summary>In what a temperature is read.</summary>
public enum TemperatureUnit
{
    /// <summary>Degrees Celsius.</summary>
    Celsius,

    /// <summary>Degrees Fahrenheit.</summary>
    Fahrenheit,
}

/// <summary>In what the hardness of water is read.</summary>
public enum HardnessUnit
{
    /// <summary>Milligrams per litre, as calcium carbonate.</summary>
    MgPerL,

    /// <summary>Grains per US gallon, as calcium carbonate.</summary>
    GrainsPerGallon,

    /// <summary>German degrees.</summary>
    GermanDegrees,

    /// <summary>French degrees.</summary>
    FrenchDegrees,
}

/// <summary>How somebody reads pages: what was chosen, and where nothing was, what the browser says or everybody gets. Immutable. It shapes pages,
/// charts and forms; answers of the API and files of numbers never.</summary>
public sealed record ReaderPreferences
{
    /// <summary>The language in which texts are written first, and of everything that is kept or answered to programs.</summary>
    public const string English = "en";

    private static readonly AsyncLocal<ReaderPreferences?> Flow = new();

    /// <summary>Those of somebody of whom nothing is known; also how everything is written that is stored or answered to programs.</summary>
    public static ReaderPreferences Standard { get; } = new();

    /// <summary>Those of whoever the present flow of work writes for; <see cref="Standard"/> where it writes for nobody in particular.</summary>
    public static ReaderPreferences Current => Flow.Value ?? Standard;

    /// <summary>Codes of the languages that there are texts in, and their own names.</summary>
    public static IReadOnlyList<Choice> Languages { get; } = [new(English, "English"), new("de", "Deutsch")];

    /// <summary>Whose questions the first page answers first.</summary>
    public ReaderRole Role { get; init; }

    /// <summary>How numbers and dates are written.</summary>
    public ReadingCulture Culture { get; init; } = ReadingCulture.Standard;

    /// <summary>Code of the language of pages.</summary>
    public string Language { get; init; } = English;

    /// <summary>In what volumes are read.</summary>
    public VolumeUnit Volume { get; init; }

    /// <summary>In what temperatures are read.</summary>
    public TemperatureUnit Temperature { get; init; }

    /// <summary>In what hardness is read.</summary>
    public HardnessUnit Hardness { get; init; }

    /// <summary>Day on which a week begins.</summary>
    public IsoDayOfWeek FirstDay { get; init; } = IsoDayOfWeek.Monday;

    /// <summary>Whether hours are counted to twelve.</summary>
    public bool TwelveHour { get; init; }

    /// <summary>IANA time zone in which instants are told; null: that of the site, on whose wall clock everything there happens.</summary>
    public string? TimeZone { get; init; }

    /// <summary>What decides how a text reads, to keep texts apart by: the role does not.</summary>
    public ReaderPreferences OfText => this with { Role = ReaderRole.All };

    /// <summary>Format of numbers and of the names of months and days.</summary>
    internal CultureInfo Format => Culture.FormatIn(Language);

    /// <summary>How dates are put together.</summary>
    internal DatePatterns Dates => DatePatterns.Of(this);

    /// <summary>Makes the present flow of work, and what it starts, write for somebody.</summary>
    /// <param name="preferences">How they read.</param>
    /// <returns>Ends it.</returns>
    public static IDisposable Use(ReaderPreferences preferences)
    {
        ReaderPreferences? before = Flow.Value;
        Flow.Value = preferences;
        return new Before(before);
    }

    private sealed class Before(ReaderPreferences? preferences) : IDisposable
    {
        public void Dispose() => Flow.Value = preferences;
    }
}
