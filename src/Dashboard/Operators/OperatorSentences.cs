using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

/// <summary>The findings about an operator, in one sentence each; page and API say the same.</summary>
public static class OperatorSentences
{
    /// <summary>How an operator's page comes about.</summary>
    public static string Method => Texts.Method;

    /// <summary>How operators are found.</summary>
    public static string ListMethod => OperatorTexts.Now.List.Method;

    private static OperatorFindingTexts Texts => OperatorTexts.Now.Finding;

    /// <summary>Whether a unit in a state waits for somebody.</summary>
    /// <param name="state">The state.</param>
    /// <returns>True for locked out, overdue and silent.</returns>
    public static bool Waits(CleaningState state) => state is CleaningState.LockedOut or CleaningState.Overdue or CleaningState.Silent;

    /// <summary>How many units wait for somebody.</summary>
    /// <param name="byState">Units by state.</param>
    /// <returns>The count.</returns>
    public static int Waiting(IReadOnlyDictionary<CleaningState, int> byState)
    {
        ArgumentNullException.ThrowIfNull(byState);
        return byState.Where(pair => Waits(pair.Key)).Sum(pair => pair.Value);
    }

    /// <summary>How an operator's ovens stand.</summary>
    /// <param name="byState">Units by state.</param>
    /// <param name="kitchens">Kitchens with a unit in service.</param>
    /// <param name="kitchensThatWait">Those with a unit that waits for somebody.</param>
    /// <returns>One sentence.</returns>
    public static string Finding(IReadOnlyDictionary<CleaningState, int> byState, int kitchens, int kitchensThatWait)
    {
        ArgumentNullException.ThrowIfNull(byState);
        int all = byState.Values.Sum();
        if (all == 0)
        {
            return Texts.NoOven;
        }

        (CleaningState State, PluralText Words)[] states =
        [
            (CleaningState.LockedOut, Texts.CannotWash), (CleaningState.Overdue, Texts.NoWash), (CleaningState.Silent, Texts.NotHeard),
        ];
        string[] parts =
        [
            .. states.Select(one => (one.Words, Count: byState.GetValueOrDefault(one.State))).Where(one => one.Count > 0)
                .Select(one => one.Words.For(one.Count)),
        ];
        (string, string) where = ("ovens_in", Texts.OvensIn.For(all, ("kitchens", Texts.Kitchens.For(kitchens))));
        return parts.Length == 0
            ? Fill.In(Texts.None, where)
            : Fill.In(kitchensThatWait == 1 ? Texts.SomeInOne : Texts.Some, where, ("parts", Listed(parts)), ("kitchens", Texts.Kitchens.For(kitchensThatWait)));
    }

    /// <summary>How operators stand beside each other.</summary>
    /// <param name="rows">Every operator that matches.</param>
    /// <returns>One sentence.</returns>
    public static string List(IReadOnlyCollection<OperatorListRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        OperatorListTexts texts = OperatorTexts.Now.List;
        (string, string) found = ("on_record", texts.OnRecord.For(rows.Count));
        int waiting = rows.Sum(row => row.UnitsThatWait);
        OperatorListRow? most = rows.OrderByDescending(row => row.UnitsThatWait).FirstOrDefault();
        return most is not { UnitsThatWait: > 0 } ? Fill.In(texts.NoneWaits, found)
            : rows.Count == 1 ? texts.SomeWait.For(waiting, found)
            : texts.SomeWaitMost.For(
                waiting, found, ("waiting", Text.Count(most.UnitsThatWait)), ("units", Text.Count(most.Units)), ("name", most.OperatorName));
    }

    /// <summary>How washing changed.</summary>
    /// <param name="now">The later stretch.</param>
    /// <param name="trend">The change between the two, counted by units.</param>
    /// <param name="compared">What is compared.</param>
    /// <param name="month">Name of the later month; null where the stretches are no months.</param>
    /// <returns>One or two sentences; a change is named only where it is more than chance explains.</returns>
    public static string Change(WashingStretch now, OnTimeTrend trend, WashingCompared compared, string? month = null)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(trend);
        ChangeTexts texts = compared switch
        {
            WashingCompared.Days => OperatorTexts.Now.ChangeInDays,
            WashingCompared.Month => OperatorTexts.Now.ChangeInMonth,
            _ => OperatorTexts.Now.ChangeInMonthSoFar,
        };
        (string, string) named = ("month", month ?? string.Empty);
        if (now.Due == 0)
        {
            return Fill.In(texts.NoneDue, named);
        }

        string kept = texts.Kept.For(now.Due, named, ("on_time", Text.Count(now.OnTime)), ("share", Text.Share(now.OnTimeShare?.Value)));
        return kept + " " + Verdict(trend, texts);
    }

    private static string Verdict(OnTimeTrend trend, ChangeTexts texts)
    {
        if (trend.Change is not { Lower: { } lower, Upper: { } upper } change)
        {
            return Fill.In(texts.CannotTell, ("why", TrendSentences.DoubtAfterColon(trend) ?? Texts.TooLittle));
        }

        string points = Fill.In(Texts.Points, ("points", Text.Points(change.Value)), ("lower", Text.Points(lower)), ("upper", Text.Points(upper)));
        return Fill.In(!trend.IsClear ? texts.NoChange : change.Value > 0 ? texts.Better : texts.Worse, ("points", points));
    }

    /// <summary>Repairs that came back.</summary>
    /// <param name="repairs">Repairs looked at.</param>
    /// <param name="count">How many came back.</param>
    /// <param name="days">Days that were looked back.</param>
    /// <param name="withinDays">Days after a repair within which a failure is a repeat.</param>
    /// <returns>One sentence.</returns>
    public static string Repeats(int repairs, int count, int days, int withinDays) =>
        count == 0 && repairs == 0 ? Texts.NoneReplaced.For(days)
        : count == 0 ? Texts.NoneAgain.For(days)
        : Texts.SomeAgain.For(count, ("in_last", Texts.InLast.For(days)), ("within", Texts.Within.For(withinDays)));

    private static string Listed(string[] parts) => parts.Length == 1
        ? parts[0]
        : Fill.In(Texts.And, ("one", string.Join(", ", parts[..^1])), ("other", parts[^1]));
}
