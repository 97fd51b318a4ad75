using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace Washwear.Api;

/// <summary>One setting: its name, what it may be, its default and what it is for.</summary>
/// <param name="Name">Name with its unit: in appsettings.json under "washwear", in the environment as WASHWEAR_ and the name in
/// capitals, on the command line as --name with dashes.</param>
/// <param name="Default">Value when none is given; empty: none.</param>
/// <param name="Allowed">What it may be, in words.</param>
/// <param name="Sentence">What it is for, in one sentence.</param>
/// <param name="IsAllowed">Whether a value may be taken.</param>
public sealed record Setting(string Name, string Default, string Allowed, string Sentence, Func<string, bool> IsAllowed)
{
    private static readonly string[] Units = ["minutes", "seconds", "hours", "days", "washes", "mib", "kib", "rows"];

    /// <summary>Name of the environment variable.</summary>
    public string EnvironmentName => Settings.EnvironmentPrefix + Name.ToUpperInvariant();

    /// <summary>Name of the command-line option.</summary>
    public string OptionName => "--" + Name.Replace('_', '-');

    /// <summary>Unit of its value, as its name says it; null: it has none.</summary>
    public string? Unit => Name.Split('_').FirstOrDefault(word => Units.Contains(word)) switch
    {
        "mib" => "MiB",
        "kib" => "KiB",
        { } unit => unit,
        null => null,
    };

    /// <summary>A setting that takes any text.</summary>
    /// <param name="name">Name.</param>
    /// <param name="standard">Default.</param>
    /// <param name="sentence">What it is for.</param>
    internal static Setting Text(string name, string standard, string sentence) => new(name, standard, "text", sentence, _ => true);

    /// <summary>A setting that takes one of some words.</summary>
    /// <param name="name">Name.</param>
    /// <param name="standard">Default.</param>
    /// <param name="choices">The words.</param>
    /// <param name="sentence">What it is for.</param>
    internal static Setting Choice(string name, string standard, string[] choices, string sentence) =>
        new(name, standard, string.Join(" or ", choices), sentence, choices.Contains);

    /// <summary>A setting that takes the name of a time zone.</summary>
    /// <param name="name">Name.</param>
    /// <param name="standard">Default.</param>
    /// <param name="sentence">What it is for.</param>
    internal static Setting TimeZone(string name, string standard, string sentence) =>
        new(name, standard, "a time zone such as Europe/Vienna", sentence, value => DateTimeZoneProviders.Tzdb.GetZoneOrNull(value) is not null);

    /// <summary>A setting that takes an instant of the years in which the records of a fleet may lie.</summary>
    /// <param name="name">Name.</param>
    /// <param name="sentence">What it is for.</param>
    internal static Setting Moment(string name, string sentence) => new(
        name,
        string.Empty,
        "an instant from 2000 to 2099 such as 2026-11-25T10:00:00Z",
        sentence,
        value => InstantPattern.ExtendedIso.Parse(value) is { Success: true } read && read.Value.InUtc().Year is >= 2000 and <= 2099);

    /// <summary>The instant that a setting of an instant stands for.</summary>
    /// <param name="value">Its value, which is allowed.</param>
    internal static DateTimeOffset MomentOf(string value) => InstantPattern.ExtendedIso.Parse(value).Value.ToDateTimeOffset();

    /// <summary>A setting that takes a whole number.</summary>
    /// <param name="name">Name with its unit.</param>
    /// <param name="standard">Default.</param>
    /// <param name="least">Least.</param>
    /// <param name="most">Most.</param>
    /// <param name="sentence">What it is for.</param>
    internal static Setting Whole(string name, int standard, int least, int most, string sentence) =>
        new(
            name,
            standard.ToString(CultureInfo.InvariantCulture),
            FormattableString.Invariant($"a whole number from {least} to {most}"),
            sentence,
            value => int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
                && number >= least && number <= most);
}
