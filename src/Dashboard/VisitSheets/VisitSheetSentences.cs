using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>The sentences of a visit sheet; page and API say the same.</summary>
public static class VisitSheetSentences
{
    private static VisitSheetTexts Texts => VisitSheetTexts.Now;

    /// <summary>What a visit is for.</summary>
    /// <param name="worst">How the unit stands under its most urgent rule; null: no rule applies.</param>
    /// <param name="fault">The fault that the sheet is for; null: none.</param>
    /// <param name="asOf">The instant.</param>
    /// <returns>One sentence.</returns>
    public static string Purpose(UnitCleaning? worst, SheetFault? fault, DateTimeOffset asOf)
    {
        PurposeTexts texts = Texts.Purpose;
        string state = worst is null ? texts.NoRule
            : worst.Since is { } since && worst.State != CleaningState.Clean
                ? Fill.In(texts.StateFor, ("state", CleaningWords.Name(worst.State)), ("time", Text.DurationAfter((asOf - since).TotalHours)))
            : CleaningWords.Name(worst.State);
        string text = fault switch
        {
            null => texts.Planned,
            { RaisedAt: not null, ClearedAt: null } => texts.Open,
            { Reason: FaultReason.LastLockout } => texts.LastLockout,
            _ => texts.AskedFor,
        };
        string meaning = (fault?.Meaning ?? Fill.In(texts.FaultNotListed, ("code", fault?.Code ?? string.Empty))).TrimEnd('.');
        return Fill.In(text, ("state", state), ("fault", meaning));
    }

    /// <summary>A fault: what it means here, since when, how often.</summary>
    /// <param name="fault">The fault, its sentence left empty.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One to three sentences.</returns>
    public static string Fault(SheetFault fault, DateTimeOffset asOf, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(fault);
        SheetFaultTexts texts = Texts.OfFault;
        string?[] sentences =
        [
            fault.Meaning is { } text ? Text.Sentence(text) : Fill.In(texts.NotInCatalogue, ("code", fault.Code)),
            (fault.LocksOutWashing, fault.LocksOutCooking) switch
            {
                (true, true) => texts.LocksBoth,
                (true, false) => texts.LocksWashing,
                (false, true) => texts.LocksCooking,
                (false, false) => null,
            },
            Since(fault, asOf, timeZone),
            fault.RaisedLastYear > 1 ? Fill.In(texts.RaisedLastYear, ("count", Text.Count(fault.RaisedLastYear))) : null,
        ];
        return string.Join(" ", sentences.OfType<string>());
    }

    /// <summary>Something that an earlier visit left to be done.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="grade">worn, poor or found.</param>
    /// <param name="at">When somebody looked.</param>
    /// <param name="note">Words of the person who looked.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One sentence.</returns>
    public static string Recommendation(string name, string grade, DateTimeOffset at, string? note, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(grade);
        (string, string)[] values = [("date", Text.Date(at, timeZone)), ("note", note?.Trim().TrimEnd('.') ?? string.Empty), ("name", name)];
        return Fill.In((string.IsNullOrWhiteSpace(note) ? Texts.LeftToDo : Texts.LeftToDoNoted)[grade], values);
    }

    /// <summary>Why a part is worth swapping while the unit is open.</summary>
    /// <param name="recommended">What an earlier visit left to be done about it; null: nothing.</param>
    /// <param name="whileOpen">Name of the position that is opened anyway; null: none.</param>
    /// <param name="chance">Chance that it fails within 180 days; null: cannot be told, or is small.</param>
    /// <param name="pair">The age past which it is worth swapping along, where it is past it; null: age is no reason.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>A few words.</returns>
    public static string Worth(OpenRecommendation? recommended, string? whileOpen, double? chance, CompanionRow? pair, string timeZone)
    {
        WorthTexts texts = Texts.Worth;
        string?[] reasons =
        [
            recommended is null ? null : Fill.In(texts.Recommended[recommended.Grade], ("date", Text.Date(recommended.SeenAt, timeZone))),
            chance is null ? null : Fill.In(texts.LikelyToFail, ("share", Text.Share(chance))),
            pair is null ? null : (pair.SwapPastAge is > 0 and { } age ? Fill.In(texts.Past[pair.Clock ?? "days"], ("age", Text.Number(age))) : texts.WhateverAge)
                + Saved(pair),
            whileOpen is null ? null : Fill.In(texts.WhileOpen, ("part", Text.Inside(whileOpen))),
        ];
        return Text.Capital(string.Join(", ", reasons.OfType<string>()));
    }

    private static string? Saved(CompanionRow pair) => pair.SavingFiveYears is > 0
        ? Fill.In(Texts.Worth.Saved, ("money", Text.Number(pair.SavingFiveYears)), ("days", Text.Number(pair.UnwashedDaysSavedFiveYears)))
        : null;

    /// <summary>What to take along for planned work.</summary>
    /// <param name="worth">Parts worth swapping.</param>
    /// <returns>One sentence.</returns>
    public static string BringForPlanned(int worth) => worth == 0 ? Texts.NothingWorth : Texts.PartsWorth.For(worth);

    /// <summary>Refusals in a row.</summary>
    /// <param name="times">How many, 2 or more.</param>
    /// <param name="first">The first of them.</param>
    /// <param name="faultCode">Fault that the last of them named.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One sentence.</returns>
    public static string Refusals(int times, DateTimeOffset first, string? faultCode, string timeZone) => Fill.In(
        faultCode is null ? Texts.Refused : Texts.RefusedByFault,
        ("count", Text.Count(times)), ("date", Text.Date(first, timeZone)), ("fault", faultCode ?? string.Empty));

    /// <summary>What was wrong, such as 'Wash pump (seized)'.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="failureMode">How it failed; null: not told.</param>
    /// <returns>A few words.</returns>
    public static string Finding(string name, string? failureMode) =>
        name + (failureMode is null ? string.Empty : " (" + Text.CodeInside(failureMode) + ")");

    /// <summary>A visit that somebody asked for and nobody made yet.</summary>
    /// <param name="askedAt">When it was asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <returns>One sentence.</returns>
    public static string Asked(DateTimeOffset askedAt, DateTimeOffset asOf) => Fill.In(Texts.VisitAsked, ("ago", Text.Ago(askedAt, asOf)));

    private static string Since(SheetFault fault, DateTimeOffset asOf, string timeZone) => fault switch
    {
        { RaisedAt: null } => Texts.OfFault.NotOnRecord,
        { ClearedAt: null } => Fill.In(
            Texts.OfFault.OpenSince, ("time", Text.Moment(fault.RaisedAt, timeZone)), ("ago", Text.Ago(fault.RaisedAt, asOf))),
        _ => Fill.In(
            fault.Reason == FaultReason.LastLockout ? Texts.OfFault.LastLockout : Texts.OfFault.NotOpen,
            ("raised", Text.Ago(fault.RaisedAt, asOf)), ("cleared", Text.Ago(fault.ClearedAt, asOf))),
    };
}
