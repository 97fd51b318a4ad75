using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

public sealed class RuleChoiceTests
{
    private static readonly LocalDate June = new(2025, 6, 1);

    [Fact]
    public void The_most_particular_rule_of_a_grade_holds_and_grades_stand_beside_each_other()
    {
        string chosen = Choose(
            Rule("all", RuleScope.All), Rule("site", RuleScope.Site), Rule("operator", RuleScope.Operator),
            Rule("model", RuleScope.Model), Rule("descale", RuleScope.All, grade: ProgrammeGrade.Descale));

        Assert.Equal("model ..; descale ..", chosen);
    }

    [Fact]
    public void A_particular_rule_interrupts_the_general_one_only_while_it_is_valid() => Assert.Equal(
        "all ..06-09; unit 06-10..06-19; all 06-20..",
        Choose(Rule("all", RuleScope.All), Rule("unit", RuleScope.Unit, 10, 19)));

    [Fact]
    public void A_rule_that_ended_before_holds_no_more() => Assert.Equal(
        "unit ..06-04; all 06-05..",
        Choose(Rule("unit", RuleScope.Unit, null, 4), Rule("all", RuleScope.All)));

    [Fact]
    public void Of_two_as_particular_the_later_one_holds_and_then_the_first_by_code()
    {
        Assert.Equal("old ..06-09; new 06-10..", Choose(Rule("old", RuleScope.Site), Rule("new", RuleScope.Site, 10)));
        Assert.Equal("a ..", Choose(Rule("b", RuleScope.Site), Rule("a", RuleScope.Site)));
    }

    [Fact]
    public void Days_without_any_rule_stay_without() => Assert.Equal(
        "a 06-03..06-05; b 06-10..06-12", Choose(Rule("b", RuleScope.All, 10, 12), Rule("a", RuleScope.Site, 3, 5)));

    [Fact]
    public void No_rule_gives_none() => Assert.Empty(RuleChoice.For([]));

    private static ScopedRule Rule(string code, RuleScope scope, int? from = null, int? to = null, ProgrammeGrade grade = ProgrammeGrade.Standard) =>
        new(new CleaningRule(code, grade, new EveryTradingDays(1), Duration.Zero, Day(from), Day(to)), scope);

    private static LocalDate? Day(int? day) => day is { } d ? June.PlusDays(d - 1) : null;

    private static string Choose(params ScopedRule[] rules) => string.Join("; ", RuleChoice.For(rules).Select(stretch => stretch.Rule).Select(r =>
        $"{r.Code} {Text(r.ValidFrom)}..{Text(r.ValidTo)}"));

    private static string Text(LocalDate? date) => date?.ToString("MM-dd", System.Globalization.CultureInfo.InvariantCulture) ?? "";
}
