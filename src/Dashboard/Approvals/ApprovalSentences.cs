using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Approvals;

/// <summary>Words on approvals.</summary>
public static class ApprovalSentences
{
    private const double LeastDaysSaid = 0.05;

    /// <summary>By what approvals are put in their order.</summary>
    public static string Method => Texts.Method;

    private static ApprovalTexts Texts => ApprovalTexts.Now;

    /// <summary>The finding over all open approvals.</summary>
    /// <param name="open">The open approvals, the dearest wait first.</param>
    public static string Finding(IReadOnlyList<ApprovalRow> open)
    {
        ArgumentNullException.ThrowIfNull(open);
        ApprovalFindingTexts texts = Texts.Finding;
        string cost = Waiting(open);
        return open.Count == 0 ? texts.None
            : Fill.In(cost == texts.NoCost ? texts.CostsNothing : texts.Costs, ("waits", texts.Waits.For(open.Count)), ("cost", cost));
    }

    /// <summary>What waiting costs, over all open approvals.</summary>
    /// <param name="open">The open approvals.</param>
    /// <returns>A clause, without a full stop.</returns>
    public static string Waiting(IReadOnlyList<ApprovalRow> open)
    {
        ArgumentNullException.ThrowIfNull(open);
        ApprovalFindingTexts texts = Texts.Finding;
        double soFar = open.Sum(row => row.UnwashedDays);
        double next = open.Sum(row => row.UnwashedDaysNextWeek ?? 0);
        string text = (soFar > LeastDaysSaid, next > LeastDaysSaid) switch
        {
            (false, false) => texts.NoCost,
            (true, false) => texts.SoFar,
            (false, true) => texts.Ahead,
            (true, true) => texts.Both,
        };
        return Fill.In(text, ("so_far", Days(soFar)), ("ahead", Days(next)));
    }

    /// <summary>What came of those decided last.</summary>
    /// <param name="decided">The decided approvals shown.</param>
    public static string Decided(IReadOnlyList<ApprovalRow> decided)
    {
        ArgumentNullException.ThrowIfNull(decided);
        double[] waits = [.. decided.Select(row => row.WaitedHours).OfType<double>().Order()];
        string took = decided.Count == 0 ? Texts.HowLong.Nothing
            : waits.Length == 0 ? Texts.HowLong.NotOnRecord
            : Texts.HowLong.Waits.For(waits.Length, ("median", Text.Duration(waits[waits.Length / 2])), ("longest", Text.Duration(waits[^1])));
        int byAsker = decided.Count(row => row.DecidedByAsker == true);
        return byAsker == 0 ? took : took + " " + Texts.HowLong.ByAsker.For(byAsker);
    }

    /// <summary>That who asked for an approval also decided it.</summary>
    /// <param name="by">Who decided; null: nobody is named.</param>
    /// <param name="bearsTheName">Whether the decision bears the name of who asked; else it was entered by them in another name.</param>
    public static string DecidedByAsker(string? by, bool bearsTheName) => bearsTheName
        ? Texts.Doubts.DecidedByAsker
        : Fill.In(Texts.Doubts.EnteredByAsker, ("by", by ?? Texts.NobodyNamed));

    /// <summary>What waiting costs, or cost.</summary>
    /// <param name="row">The approval; its sentence may still be empty.</param>
    public static string Cost(ApprovalRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.State == ApprovalState.Open ? string.Join(" ", OpenCost(row).OfType<string>()) : DecidedCost(row);
    }

    /// <summary>A number of days with its noun.</summary>
    /// <param name="days">Days.</param>
    public static string Days(double days) => !double.IsFinite(days) ? Text.NotKnown
        : Math.Round(days, 1) == 1 ? Fill.In(Texts.Days.One, ("count", Text.Tick(1)))
        : Fill.In(Texts.Days.Other, ("count", Text.Tick(Math.Round(days, days < 10 ? 1 : 0))));

    /// <summary>What looks wrong with an open approval.</summary>
    /// <param name="notLockedOut">The unit is not locked out.</param>
    /// <param name="hasWashed">It has washed since it was locked out.</param>
    /// <param name="another">Another request is for the same unit and fault.</param>
    /// <param name="notToldWhen">Nobody said when it was asked for.</param>
    /// <returns>A sentence for each that holds.</returns>
    public static IReadOnlyList<string> Doubts(bool notLockedOut, bool hasWashed, bool another, bool notToldWhen)
    {
        ApprovalDoubtTexts texts = Texts.Doubts;
        (bool Holds, string Doubt)[] all =
            [(notLockedOut, texts.NotLockedOut), (hasWashed, texts.HasWashed), (another, texts.AnotherRequest), (notToldWhen, texts.NotToldWhen)];
        return [.. all.Where(one => one.Holds).Select(one => one.Doubt)];
    }

    private static IEnumerable<string?> OpenCost(ApprovalRow row)
    {
        WaitingCostTexts texts = Texts.Cost;
        yield return row.UnwashedDays > LeastDaysSaid ? Fill.In(texts.Unwashed, ("days", Days(row.UnwashedDays))) : texts.NoneMissed;
        yield return row.UnwashedDaysNextWeek switch
        {
            null => texts.AheadNotKnown,
            > LeastDaysSaid and { } days => Fill.In(texts.Ahead, ("days", Days(days))),
            _ => texts.AheadNone,
        };
        yield return row switch
        {
            { UnitsAtSite: <= 1 } => texts.OnlyOven,
            { OtherUnitsThatWash: 0 } => texts.NoOther,
            { OtherUnitsThatWash: { } others } => texts.Others.For(others),
            _ => null,
        };
        yield return row.CompanionChance30Days is { } chance && row.Companions.Count > 0
            ? Fill.In(texts.Companions, ("share", Text.Share(chance)), ("parts", Either(row.Companions)))
            : null;
    }

    private static string DecidedCost(ApprovalRow row)
    {
        WaitingCostTexts texts = Texts.Cost;
        bool isUnwashed = row.UnwashedDays > LeastDaysSaid;
        string text = row.WaitedHours is null ? isUnwashed ? texts.UnknownUnwashed : texts.UnknownNone
            : isUnwashed ? texts.DecidedUnwashed : texts.DecidedNone;
        return Fill.In(text, ("time", Text.DurationAfter(row.WaitedHours)), ("days", Days(row.UnwashedDays)));
    }

    private static string Either(IReadOnlyList<string> names)
    {
        string[] parts = [.. names.Select(name => Fill.In(Texts.Cost.ThePart, ("part", Uncapital(name))))];
        return parts.Length == 1 ? parts[0] : Fill.In(Texts.Cost.Either, ("last", parts[^1]), ("parts", string.Join(", ", parts[..^1])));
    }

    // A name that begins with an abbreviation keeps its capitals.
    private static string Uncapital(string name) => name.Length > 1 && char.IsLower(name[1]) ? Text.Uncapital(name) : name;
}
