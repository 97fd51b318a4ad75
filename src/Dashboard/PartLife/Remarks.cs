using System.Globalization;
using System.Text.RegularExpressions;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>
/// What the mathematics says of its own results (doubts, reasons, methods) in the reader's language. Analytics speaks English: each of its remarks
/// is told apart by the English text of Remarks.en.json, whose {places} take its values. One that is not there stays English.
/// </summary>
public static class Remarks
{
    private const string PlaceOfClock = "clock";
    private const string PlaceOfSource = "source";

    // What is recognised is English whoever reads.
    private static readonly (string Code, Regex Pattern)[] Patterns =
        [.. RemarksTexts.File.In(ReaderPreferences.English).Known.Select(known => (known.Key, Pattern(known.Value)))];

    /// <summary>A remark.</summary>
    /// <param name="remark">As Analytics words it.</param>
    /// <returns>The same in English; else in the reader's language, with values in the reader's way.</returns>
    public static string Told(string remark)
    {
        ArgumentNullException.ThrowIfNull(remark);
        return ReaderPreferences.Current.Language == ReaderPreferences.English ? remark : Reworded(remark);
    }

    /// <summary>A remark whose figures stand beside a table of the same: they read alike in English too.</summary>
    /// <param name="remark">As Analytics words it.</param>
    /// <returns>The same in the reader's language, with values in the reader's way.</returns>
    public static string Reworded(string remark)
    {
        ArgumentNullException.ThrowIfNull(remark);
        foreach ((string code, Regex pattern) in Patterns)
        {
            if (pattern.Match(remark) is { Success: true } match)
            {
                return Fill.In(
                    RemarksTexts.Now.Known[code],
                    [.. match.Groups.Values.Skip(1).Select(place => (place.Name, Value(place.Name, place.Value)))]);
            }
        }

        return remark;
    }

    /// <summary>Remarks.</summary>
    /// <param name="remarks">As Analytics words them.</param>
    /// <returns>Each in the reader's language.</returns>
    public static IReadOnlyList<string> Told(IEnumerable<string> remarks) => [.. remarks.Select(Told)];

    private static Regex Pattern(string text) => new(
        "^" + Regex.Replace(Regex.Escape(text), @"\\\{([a-z_]+)}", "(?<$1>.+?)") + "$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture);

    private static string Value(string place, string value) => place switch
    {
        PlaceOfClock => Text.ClockUnit(value),
        PlaceOfSource => Told(value),
        _ when int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int count) => Text.Count(count),
        _ when double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) => Text.Number(number),
        _ => value,
    };
}
