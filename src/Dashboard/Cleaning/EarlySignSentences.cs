using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>Early signs in words; page, API and alert say the same.</summary>
public static class EarlySignSentences
{
    /// <summary>How signs are told.</summary>
    public static string Method => Texts.Method;

    /// <summary>What to know before acting on a sign.</summary>
    public static string Doubt => Texts.Doubt;

    private static EarlySignTexts Texts => EarlySignTexts.Now;

    /// <summary>A kind of sign in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Name(SignKind kind) => Texts.Kinds[kind];

    /// <summary>A kind of sign within a sentence.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>A few words, with a capital only where the language asks for it.</returns>
    public static string InSentence(SignKind kind) => Texts.KindsInSentence[kind];

    /// <summary>What a chart says.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="sign">The chart.</param>
    public static string Of(string unit, EarlySign sign)
    {
        ArgumentNullException.ThrowIfNull(sign);
        return sign switch
        {
            { IsCharted: false, Kind: SignKind.BadWashes } => Fill.In(Texts.TooFewWashes, ("count", Text.Count(EarlySignOptions.Usual.FirstWashes))),
            { IsCharted: false } => Fill.In(Texts.TooFewOfProgramme, ("count", Text.Count(EarlySignOptions.Usual.FirstOfProgramme))),
            { IsCalled: true } => Called(unit, sign),
            _ => Fill.In(Texts.NoSign, ("share", Text.Share(sign.ShareOfLimit))),
        };
    }

    /// <summary>A share as how many in a hundred.</summary>
    /// <param name="share">The share.</param>
    public static string InAHundred(double share) => double.IsFinite(share) ? Text.Tick(Math.Round(100 * share, 1)) : Text.NotKnown;

    /// <summary>How rarely a sound unit is called.</summary>
    /// <param name="reading">What its chart says.</param>
    public static string FalseAlarms(SignReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return reading.FalseAlarmsPerYear is > 0 and < double.PositiveInfinity and var rate
            ? Fill.In(Texts.OneInYears, ("years", Text.Tick(Math.Round(1 / rate, 1))))
            : reading.IsCharted ? Text.NotKnown
            : "–";
    }

    /// <summary>Why no sign stands any more.</summary>
    /// <param name="ended">How the last one ended; null: not known.</param>
    public static string Ended(SignEnd? ended) => ended is { } known
        ? Fill.In(Texts.Ended[known], ("count", Text.Count(EarlySignOptions.Usual.UsualAfterWashes)))
        : Texts.NoLongerWatched;

    /// <summary>The finding about a fleet.</summary>
    /// <param name="units">Units under a standing sign.</param>
    /// <param name="charted">Units with history enough.</param>
    public static string Fleet(int units, int charted) => (units, charted) switch
    {
        (_, 0) => Texts.NoneCharted,
        (0, _) => Fill.In(Texts.None, ("of_units", CleaningTexts.Now.OfUnits.For(charted))),
        _ => Texts.Some.For(units, ("of_units", CleaningTexts.Now.OfUnits.For(charted))),
    };

    /// <summary>The finding about a unit.</summary>
    /// <param name="readings">What each chart says.</param>
    public static string Unit(IReadOnlyList<SignReading> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        string[] called = [.. readings.Where(one => one.CalledAt is not null).Select(one => one.Sentence)];
        return called.Length > 0 ? string.Join(' ', called)
            : readings.Any(one => one.IsCharted) ? Texts.NoneAtUnit
            : Texts.TooLittleAtUnit;
    }

    private static string Called(string unit, EarlySign sign) => Fill.In(
        sign.Kind switch { SignKind.BadWashes => Texts.Bad, SignKind.LongerWashes => Texts.Longer, _ => Texts.Shorter },
        ("unit", unit),
        ("bad", Text.Count((int)Math.Round(sign.Seen))),
        ("washes", Text.Count(sign.Washes)),
        ("usual", InAHundred(sign.BaselineShare ?? 0)),
        ("share", Text.Share(Math.Abs((sign.Seen / sign.Expected) - 1))));
}
