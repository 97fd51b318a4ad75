using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Money and verdicts of plans as a person reads them.</summary>
public static class PlanWords
{
    /// <summary>An amount of money, such as '1,240 EUR'.</summary>
    /// <param name="amount">The amount; null, NaN and infinities are not known.</param>
    /// <param name="currency">Its currency; null: nobody told, and none is shown.</param>
    /// <param name="column">All amounts of the table that it stands in, which are told alike; null: it stands alone.</param>
    /// <returns>Alone, whole units from 100 on, else two decimals; in a table whole units, but two decimals in all of it where one is below 10.</returns>
    public static string Money(double? amount, string? currency, IEnumerable<double?>? column = null) => amount is not { } sum || !double.IsFinite(sum)
        ? Text.NotKnown
        : Text.Money(sum, currency, column?.Any(IsSmall));

    /// <summary>A length of work: a day of it is no day and night, so hours are never turned into days.</summary>
    /// <param name="minutes">Minutes of work.</param>
    /// <returns>Such as '40 min' or '59 h'.</returns>
    public static string Work(double minutes) => !double.IsFinite(minutes) ? Text.NotKnown
        : minutes < 24 * 60 ? Text.Duration(minutes / 60)
        : Fill.In(PlanTexts.Now.Hours, ("hours", Text.Count((int)Math.Min(int.MaxValue, Math.Round(minutes / 60)))));

    /// <summary>A difference in money, with its sign.</summary>
    /// <param name="amount">The difference.</param>
    /// <param name="currency">Its currency; null: none is shown.</param>
    /// <param name="column">All amounts of the table that it stands in; null: it stands alone.</param>
    /// <returns>Such as '+120 EUR'; 'the same' for none.</returns>
    public static string Difference(double amount, string? currency, IEnumerable<double?>? column = null) =>
        !double.IsFinite(amount) ? Text.NotKnown
        : Math.Abs(amount) < 0.005 ? PlanTexts.Now.TheSame
        : (amount > 0 ? "+" : "−") + Money(Math.Abs(amount), currency, column);

    /// <summary>An amount of money in a sentence about rows of a table: as the table tells it where no amount of it is below 10.</summary>
    /// <param name="amount">The amount; null, NaN and infinities are not known.</param>
    /// <param name="currency">Its currency; null: nobody told, and none is shown.</param>
    /// <returns>Whole units from 10 on, else two decimals.</returns>
    public static string MoneyOfRow(double? amount, string? currency) => Money(amount, currency, [amount]);

    private static bool IsSmall(double? amount) => amount is { } sum && double.IsFinite(sum) && Math.Abs(sum) is >= 0.005 and < 10;

    /// <summary>What is best done with a part.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="ageDays">Age at which it is replaced, days.</param>
    /// <returns>A few words.</returns>
    public static string Verdict(PlanVerdict verdict, double? ageDays)
    {
        WhatIfVerdictsTexts texts = WhatIfTexts.Now.Verdicts;
        return verdict switch
        {
            PlanVerdict.ReplaceAtAge => ageDays is null ? texts.InTime : Fill.In(texts.AtDays, ("age", Text.Number(ageDays))),
            PlanVerdict.RunToFailure => texts.Run,
            _ => texts.Unknown,
        };
    }

    /// <summary>How many of a thousand a chance stands for.</summary>
    /// <param name="chance">The chance, 0 to 1.</param>
    internal static string OfThousand(double chance) => Math.Round(1000 * chance) is >= 1 and var many
        ? Fill.In(PlanTexts.Now.AboutMany, ("count", Text.Tick(many)))
        : PlanTexts.Now.FewerThanOne;
}
