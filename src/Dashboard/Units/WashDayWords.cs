using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>Kinds of days as a letter, a short word and a name; no kind is told by its colour alone.</summary>
public static class WashDayWords
{
    /// <summary>Kinds in the order of the legend.</summary>
    public static IReadOnlyList<WashDayKind> Kinds { get; } = Enum.GetValues<WashDayKind>();

    private static WashCalendarTexts Texts => WashCalendarTexts.Now;

    /// <summary>The letter of a kind, as in calendars and tables.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>One character, another one for each kind.</returns>
    public static string Letter(WashDayKind kind) => Texts.Letters[kind];

    /// <summary>A kind in one short word or two, as a kitchen would say it.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>Lower case, at most ten characters.</returns>
    public static string Brief(WashDayKind kind) => Texts.Brief[kind];

    /// <summary>A kind in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Name(WashDayKind kind) => Text.Capital(InSentence(kind));

    /// <summary>A kind within a sentence.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>A few words, with a capital only where the language asks for it.</returns>
    public static string InSentence(WashDayKind kind) => Texts.Names[kind];

    /// <summary>Whether the day's wash was kept.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>True for a wash that counts, also by hand.</returns>
    public static bool IsKept(WashDayKind kind) => kind is WashDayKind.Counted or WashDayKind.CountedByHand;

    /// <summary>Whether a wash was owed on the day, as far as anybody knows.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>False where the site was closed, the unit out of service, no wash due, or one can still be on time.</returns>
    public static bool IsOwed(WashDayKind kind) =>
        kind is not (WashDayKind.NotDue or WashDayKind.Pending or WashDayKind.Closed or WashDayKind.OutOfService);

    /// <summary>What happened on a day, with what its kind leaves open.</summary>
    /// <param name="day">The day.</param>
    /// <returns>A few words with a capital.</returns>
    public static string Told(WashDay day)
    {
        ArgumentNullException.ThrowIfNull(day);
        return day.Why ?? Name(day.Kind);
    }

    /// <summary>A wash of too low a grade.</summary>
    /// <param name="washed">Its grade.</param>
    /// <param name="asked">The grade that the rule asks for.</param>
    /// <returns>A few words with a capital.</returns>
    public static string TooLow(ProgrammeGrade washed, ProgrammeGrade asked) =>
        Fill.In(Texts.TooLow, ("washed", Texts.WashedAt[washed]), ("asked", Texts.AskedFor[asked]));

    /// <summary>What a day has come to that is not over.</summary>
    /// <param name="what">What it has come to so far.</param>
    /// <returns>A few words with a capital.</returns>
    public static string SoFar(string what) => Fill.In(Texts.SoFar, ("what", what));

    /// <summary>No rule asks for a wash on the day.</summary>
    public static string NoRule => Texts.NoRule;

    /// <summary>Why nothing is asked of a day before the unit was commissioned.</summary>
    public static string NotYetThere => Texts.NotYetThere;

    /// <summary>Why nothing is asked of a day after the unit had left.</summary>
    public static string NoLongerThere => Texts.NoLongerThere;

    /// <summary>Washed after the day, yet in time.</summary>
    public static string WashedInGrace => Texts.InGrace;
}
