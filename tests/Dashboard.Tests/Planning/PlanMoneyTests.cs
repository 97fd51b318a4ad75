using Washwear.Dashboard.Planning;

namespace Washwear.Dashboard.Tests.Planning;

/// <summary>Amounts that are compared in one table have the same number of decimals.</summary>
public sealed class PlanMoneyTests
{
    [Theory]
    [InlineData(new[] { 165, 95, 1240.4 }, new[] { "165 EUR", "95 EUR", "1,240 EUR" })]
    [InlineData(new[] { 165, 9.5 }, new[] { "165.00 EUR", "9.50 EUR" })]
    [InlineData(new[] { 165.0, 0 }, new[] { "165 EUR", "0 EUR" })]
    [InlineData(new[] { 0.001, 20 }, new[] { "0 EUR", "20 EUR" })]
    public void A_column_never_mixes_whole_amounts_with_cents(double[] amounts, string[] told) =>
        Assert.Equal(told, amounts.Select(amount => PlanWords.Money(amount, "EUR", amounts.Select(one => (double?)one))));

    [Fact]
    public void What_is_not_known_decides_nothing() => Assert.Equal("165 EUR", PlanWords.Money(165, "EUR", [165, null, double.NaN]));

    [Fact]
    public void An_amount_alone_is_told_as_suits_it()
    {
        Assert.Equal("95.00 EUR", PlanWords.Money(95, "EUR"));
        Assert.Equal("165 EUR", PlanWords.Money(165, "EUR"));
    }

    // The table said '46 EUR' and the sentence beside it '45.9'.
    [Theory]
    [InlineData(45.9, "It saves about 46 EUR a year")]
    [InlineData(66.3, "It saves about 66 EUR a year")]
    [InlineData(9.54, "It saves about 9.54 EUR a year")]
    public void A_sentence_tells_money_with_its_currency_and_to_the_digit_of_its_table(double saving, string told)
    {
        ReplacementRow row = PlanningSamples.Early with { SavingPerYear = saving };
        Assert.Contains(told, ReplacementSentences.Row(row, "EUR"), StringComparison.Ordinal);
        Assert.Contains(told.Split("about ")[1].Split(" a year")[0], PlanWords.Money(saving, "EUR", [saving]), StringComparison.Ordinal);
    }

    [Fact]
    public void A_pair_tells_its_saving_as_its_table_does()
    {
        CompanionRow pair = PlanningSamples.Pair with { SavingFiveYears = 356.7, SavingStandardError = 4.93 };
        Assert.Contains("saves about 357 EUR (give or take 10)", CompanionSentences.Row(pair, "EUR"), StringComparison.Ordinal);
    }
}
