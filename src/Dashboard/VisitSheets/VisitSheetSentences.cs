using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>The sentences of a visit sheet; page and API say the same.</summary>
public static class VisitSheetSentences
{
    /// <summary>What a visit is for.</summary>
    /// <param name="worst">How the unit stands under its most urgent rule; null: no rule applies.</param>
    /// <param name="fault">The fault that the sheet is for; null: none.</param>
    /// <param name="asOf">The instant.</param>
    /// <returns>One sentence.</returns>
    public static string Purpose(UnitCleaning? worst, SheetFault? fault, DateTimeOffset asOf)
    {
        string state = worst is null ? "No cleaning rule applies"
            : CleaningWords.Name(worst.State) + (worst.Since is { } since && worst.State != CleaningState.Clean
                ? " for " + Text.Duration((asOf - since).TotalHours) : string.Empty);
        string meaning = (fault?.Meaning ?? "fault " + fault?.Code + ", which the catalogue does not list").TrimEnd('.');
        return fault switch
        {
            null => state + "; no fault is open and none has locked it out lately: a sheet for planned work.",
            { RaisedAt: not null, ClearedAt: null } => state + ": " + meaning + ".",
            { Reason: FaultReason.LastLockout } => state + ", no fault is open. The last lockout: " + meaning + ".",
            _ => state + ". Asked for, not open: " + meaning + ".",
        };
    }

    /// <summary>A fault: what it means here, since when, how often.</summary>
    /// <param name="fault">The fault, its sentence left empty.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One to three sentences.</returns>
    public static string Fault(SheetFault fault, DateTimeOffset asOf, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(fault);
        string meaning = fault.Meaning is { } text ? Text.Sentence(text)
            : "The model's catalogue says nothing about " + fault.Code + ", so neither causes nor checks can be given.";
        string locks = (fault.LocksOutWashing, fault.LocksOutCooking) switch
        {
            (true, true) => " It locks out washing and cooking.",
            (true, false) => " It locks out washing.",
            (false, true) => " It locks out cooking.",
            (false, false) => string.Empty,
        };
        return meaning + locks + " " + Since(fault, asOf, timeZone)
            + (fault.RaisedLastYear > 1 ? " Raised " + Text.Counted(fault.RaisedLastYear, "time") + " here in the last 365 days."
                : string.Empty);
    }

    /// <summary>Something that an earlier visit left to be done.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="grade">worn, poor or found.</param>
    /// <param name="at">When somebody looked.</param>
    /// <param name="note">Words of the person who looked.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One sentence.</returns>
    public static string Recommendation(string name, string grade, DateTimeOffset at, string? note, string timeZone) =>
        name + ": " + (grade == "found" ? "found at fault" : grade) + " on " + Text.Date(at, timeZone)
        + (grade == "found" ? ", not changed since" : ", left in")
        + (string.IsNullOrWhiteSpace(note) ? "." : " (" + note.Trim().TrimEnd('.') + ").");

    /// <summary>Why a part is worth swapping while the unit is open.</summary>
    /// <param name="recommended">What an earlier visit left to be done about it; null: nothing.</param>
    /// <param name="whileOpen">Name of the position that is opened anyway; null: none.</param>
    /// <param name="chance">Chance that it fails within 180 days; null: cannot be told, or is small.</param>
    /// <param name="pair">The age past which it is worth swapping along, where it is past it; null: age is no reason.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>A few words.</returns>
    public static string Worth(OpenRecommendation? recommended, string? whileOpen, double? chance, CompanionRow? pair, string timeZone)
    {
        string?[] reasons =
        [
            recommended is null ? null : (recommended.Grade == "found" ? "found at fault on " : "graded " + recommended.Grade + " on ")
                + Text.Date(recommended.SeenAt, timeZone),
            chance is null ? null : Text.Share(chance) + " to fail within 180 days",
            pair is null ? null : pair.SwapPastAge is > 0 and { } age
                ? "past " + Text.Number(age) + " " + Text.ClockUnit(pair.Clock) + ", from which swapping it along is cheaper" + Saved(pair)
                : "cheaper swapped along whatever its age" + Saved(pair),
            whileOpen is null ? null : "while the " + whileOpen.ToLowerInvariant() + " is open",
        ];
        return Text.Capital(string.Join(", ", reasons.OfType<string>()));
    }

    private static string? Saved(CompanionRow pair) => pair.SavingFiveYears is > 0
        ? $" (in five years about {Text.Number(pair.SavingFiveYears)} in money and {Text.Number(pair.UnwashedDaysSavedFiveYears)} days without a wash)"
        : null;

    /// <summary>What to take along for planned work.</summary>
    /// <param name="worth">Parts worth swapping.</param>
    /// <returns>One sentence.</returns>
    public static string BringForPlanned(int worth) => worth == 0
        ? "Nothing fitted is known to be worn or likely to fail soon."
        : Text.Counted(worth, "part is", "parts are") + " worth swapping at this visit.";

    /// <summary>Refusals in a row.</summary>
    /// <param name="times">How many, 2 or more.</param>
    /// <param name="first">The first of them.</param>
    /// <param name="faultCode">Fault that the last of them named.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One sentence.</returns>
    public static string Refusals(int times, DateTimeOffset first, string? faultCode, string timeZone) =>
        "Refused by the unit " + Text.Counted(times, "time") + " since " + Text.Date(first, timeZone)
        + (faultCode is null ? "." : " (" + faultCode + ").");

    /// <summary>What was wrong, such as 'Wash pump (seized)'.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="failureMode">How it failed; null: not told.</param>
    /// <returns>A few words.</returns>
    public static string Finding(string name, string? failureMode) =>
        name + (failureMode is null ? string.Empty : " (" + Text.Words(failureMode).ToLowerInvariant() + ")");

    /// <summary>A visit that somebody asked for and nobody made yet.</summary>
    /// <param name="askedAt">When it was asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <returns>One sentence.</returns>
    public static string Asked(DateTimeOffset askedAt, DateTimeOffset asOf) => "Visit asked for " + Text.Ago(askedAt, asOf) + ".";

    private static string Since(SheetFault fault, DateTimeOffset asOf, string timeZone) => fault switch
    {
        { RaisedAt: null } => "It is not on record that this unit raised it.",
        { ClearedAt: null } => "Open since " + Text.Moment(fault.RaisedAt, timeZone) + " (" + Text.Ago(fault.RaisedAt, asOf) + ").",
        _ => (fault.Reason == FaultReason.LastLockout ? "No fault is open; this was the last lockout: raised "
            : "Not open now: last raised ")
            + Text.Ago(fault.RaisedAt, asOf) + ", cleared " + Text.Ago(fault.ClearedAt, asOf) + ".",
    };
}
