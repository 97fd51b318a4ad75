using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on parts that are swapped together.</summary>
public static class CompanionSentences
{
    private static PartsCompanionsTexts Texts => PlanPartsTexts.Now.Companions;

    /// <summary>The finding over some pairs.</summary>
    /// <param name="rows">The pairs.</param>
    /// <param name="all">How many pairs there are, also those that were not asked for.</param>
    public static string Finding(IReadOnlyCollection<CompanionRow> rows, int all)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CompanionRow[] worth = [.. rows.Where(row => row.SavingFiveYears > 2 * row.SavingStandardError)];
        return rows.Count == 0 && all > 0 ? Texts.NoneFits
            : rows.Count == 0 ? Texts.NoneCalled
            : worth.Length == 0 ? Texts.NoneWorth.For(rows.Count)
            : Texts.Worth.For(worth.Length, [("all", rows.Count.ToString(CultureInfo.InvariantCulture)), .. Pair(worth.MaxBy(row => row.SavingFiveYears)!)]);
    }

    /// <summary>What the openings are counted from.</summary>
    /// <param name="openings">How many.</param>
    /// <param name="years">Years that they are counted against.</param>
    public static string OpeningsFrom(int openings, double years) => Texts.OpeningsFrom.For(openings, ("years", Text.Number(years)));

    /// <summary>What is best done with a pair.</summary>
    /// <param name="row">The pair; its sentence may still be empty.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static string Row(CompanionRow row, string? currency)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.NotPlanned is { } why)
        {
            return Fill.In(Texts.Nothing, ("why", why));
        }

        if (row.SwapPastAge is not { } age)
        {
            return Fill.In(Texts.Leave, Pair(row));
        }

        string swap = Fill.In(
            age <= 0 ? Texts.SwapAlways : Texts.SwapPast, [.. Pair(row), ("age", Text.Number(age)), ("clock", Text.ClockUnitAfter(row.Clock))]);
        return row.SavingFiveYears is { } money
            ? swap + " " + Fill.In(
                Texts.Saves,
                ("money", PlanWords.MoneyOfRow(money, currency)),
                ("error", PlanWords.Money(2 * row.SavingStandardError, null, [money])),
                ("days", Text.Number(row.UnwashedDaysSavedFiveYears)))
            : swap;
    }

    private static (string Name, string Value)[] Pair(CompanionRow row) =>
        [("companion", PlanSentences.Lower(row.CompanionName)), ("opened", PlanSentences.Lower(row.OpenedName))];
}
