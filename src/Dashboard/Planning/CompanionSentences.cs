using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on parts that are swapped together.</summary>
public static class CompanionSentences
{
    /// <summary>The finding over some pairs.</summary>
    /// <param name="rows">The pairs.</param>
    /// <param name="all">How many pairs there are, also those that were not asked for.</param>
    public static string Finding(IReadOnlyCollection<CompanionRow> rows, int all)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CompanionRow[] worth = [.. rows.Where(row => row.SavingFiveYears > 2 * row.SavingStandardError)];
        return rows.Count == 0 && all > 0 ? "No pair of positions fits what was asked for."
            : rows.Count == 0 ? "The models call no positions companions, so nothing is weighed."
            : worth.Length == 0 ? $"Of {Text.Counted(rows.Count, "pair")} none is shown to be worth swapping together."
            : $"{Text.Counted(worth.Length, "pair is", "pairs are")} worth swapping together, of {rows.Count}: most at the {PlanSentences.Lower(worth.MaxBy(row => row.SavingFiveYears)!.CompanionName)} "
                + $"while the {PlanSentences.Lower(worth.MaxBy(row => row.SavingFiveYears)!.OpenedName)} is open.";
    }

    /// <summary>What the openings are counted from.</summary>
    /// <param name="openings">How many.</param>
    /// <param name="years">Years that they are counted against.</param>
    public static string OpeningsFrom(int openings, double years) =>
        $"{Text.Counted(openings, "part")} taken out here in {Text.Number(years)} unit-years of the last two years";

    /// <summary>What is best done with a pair.</summary>
    /// <param name="row">The pair; its sentence may still be empty.</param>
    public static string Row(CompanionRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.NotPlanned is { } why)
        {
            return $"Nothing can be said: {why}.";
        }

        if (row.SwapPastAge is not { } age)
        {
            return $"Leave the {PlanSentences.Lower(row.CompanionName)} in while the {PlanSentences.Lower(row.OpenedName)} is open: that swapping it along pays at any age is not shown.";
        }

        string past = age <= 0 ? "whatever its age" : $"past {Text.Number(age)} {Text.ClockUnit(row.Clock)}";
        string saving = row.SavingFiveYears is { } money
            ? $" Over five years that saves about {Text.Number(money)} (give or take {Text.Number(2 * row.SavingStandardError)}) and {Text.Number(row.UnwashedDaysSavedFiveYears)} "
                + "days without a wash an oven."
            : string.Empty;
        return $"Swap the {PlanSentences.Lower(row.CompanionName)} along {past} when the {PlanSentences.Lower(row.OpenedName)} is open.{saving}";
    }
}
