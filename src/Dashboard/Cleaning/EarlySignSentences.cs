using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>Early signs in words; page, API and alert say the same.</summary>
public static class EarlySignSentences
{
    /// <summary>A kind of sign in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Name(SignKind kind) => kind switch
    {
        SignKind.BadWashes => "Bad washes",
        SignKind.LongerWashes => "Longer washes",
        SignKind.ShorterWashes => "Shorter washes",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind of sign without words."),
    };

    /// <summary>What a chart says.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="sign">The chart.</param>
    public static string Of(string unit, EarlySign sign)
    {
        ArgumentNullException.ThrowIfNull(sign);
        if (!sign.IsCharted)
        {
            return sign.Kind == SignKind.BadWashes
                ? "Too little history: fewer than " + Text.Count(EarlySignOptions.Usual.FirstWashes) + " washes on record to tell what is usual."
                : "Too little history: fewer than " + Text.Count(EarlySignOptions.Usual.FirstOfProgramme)
                    + " washes of any one programme since a part was last changed.";
        }

        return sign.IsCalled ? Called(unit, sign)
            : "No sign: the sum stands at " + Text.Share(sign.ShareOfLimit) + " of its limit.";
    }

    /// <summary>A share as how many in a hundred.</summary>
    /// <param name="share">The share.</param>
    public static string InAHundred(double share) => double.IsFinite(share) ? Text.Tick(Math.Round(100 * share, 1)) : Text.NotKnown;

    /// <summary>How rarely a sound unit is called.</summary>
    /// <param name="reading">What its chart says.</param>
    public static string FalseAlarms(SignReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return reading.FalseAlarmsPerYear is > 0 and < double.PositiveInfinity and var rate ? "one in " + Text.Tick(Math.Round(1 / rate, 1)) + " years"
            : reading.IsCharted ? Text.NotKnown
            : "–";
    }

    /// <summary>Why no sign stands any more.</summary>
    /// <param name="ended">How the last one ended; null: not known.</param>
    public static string Ended(SignEnd? ended) => ended switch
    {
        SignEnd.Mended => "A part was changed or a repair ended: the charts begin anew.",
        SignEnd.Better => "Washes are back to what was usual.",
        SignEnd.Usual => "Washes have taken as long as now for " + Text.Count(EarlySignOptions.Usual.UsualAfterWashes)
            + " washes: that is taken for the unit's way from now on.",
        _ => "The unit is no longer watched.",
    };

    /// <summary>The finding about a fleet.</summary>
    /// <param name="units">Units under a standing sign.</param>
    /// <param name="charted">Units with history enough.</param>
    public static string Fleet(int units, int charted) => (units, charted) switch
    {
        (_, 0) => "No unit has enough washes on record yet to tell whether they are getting worse.",
        (0, _) => "Washes are getting worse at none of " + Text.Counted(charted, "unit") + ".",
        _ => "Washes are getting worse at " + Text.Count(units) + " of " + Text.Counted(charted, "unit")
            + ": look at " + (units == 1 ? "it" : "them") + " before " + (units == 1 ? "it locks" : "they lock") + " out.",
    };

    /// <summary>The finding about a unit.</summary>
    /// <param name="readings">What each chart says.</param>
    public static string Unit(IReadOnlyList<SignReading> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        string[] called = [.. readings.Where(one => one.CalledAt is not null).Select(one => one.Sentence)];
        return called.Length > 0 ? string.Join(' ', called)
            : readings.Any(one => one.IsCharted) ? "No early sign: the washes are as usual for this unit."
            : "Too little history to tell whether the washes are getting worse.";
    }

    private static string Called(string unit, EarlySign sign) => sign.Kind == SignKind.BadWashes
        ? "Washes of " + unit + " go wrong more often than they used to: " + Text.Count((int)Math.Round(sign.Seen)) + " of the last "
            + Text.Count(sign.Washes) + " were stopped by a fault or left detergent; usual is at most "
            + InAHundred(sign.BaselineShare ?? 0) + " in 100."
        : "Washes of " + unit + " take " + (sign.Kind == SignKind.LongerWashes ? "longer" : "less time") + " than they used to: "
            + Text.Share(Math.Abs((sign.Seen / sign.Expected) - 1)) + " " + (sign.Kind == SignKind.LongerWashes ? "more" : "less")
            + " over the last " + Text.Count(sign.Washes) + ".";
}
