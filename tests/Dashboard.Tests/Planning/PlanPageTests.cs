using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Planning;

namespace Washwear.Dashboard.Tests.Planning;

public sealed class PlanPageTests
{
    [Fact]
    public async Task A_job_leads_to_its_unit_to_why_and_to_the_lives_behind_it()
    {
        IElement job = (await Pages.ParseAsync("plan, full")).QuerySelector(".jobs li")!;
        Assert.Equal(
            ["/units/OVEN-1", "/planning/parts?position=wash-pump", "/part-life?position=wash-pump"],
            job.QuerySelectorAll("a").Select(link => link.GetAttribute("href")));
        Assert.Contains("12 % chance to fail within 90 days; the part lies in stock", job.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_can_be_decided_stands_beside_each_job_and_only_what_is_open_is_accepted_for_the_whole_visit()
    {
        IHtmlDocument document = await Pages.ParseAsync("plan, full");
        IElement[] forms = [.. document.QuerySelectorAll("form.decide")];
        Assert.Equal(3, forms.Length);
        Assert.Equal(["accepted", "postponed", "rejected"], Words(forms[0]));
        Assert.Equal(["accepted", "postponed", "rejected", "revoked"], Words(forms[1]));
        Assert.Equal(["accepted"], Words(forms[2]));
        Assert.Equal("wash-pump", Assert.Single(forms[2].QuerySelectorAll("input[name=position]")).GetAttribute("value"));
        Assert.Empty((await Pages.ParseAsync("plan, empty")).QuerySelectorAll("form.decide"));

        static IEnumerable<string?> Words(IElement form) => form.QuerySelectorAll("button[name=decision]").Select(button => button.GetAttribute("value"));
    }

    [Fact]
    public async Task What_narrows_the_plan_can_be_taken_away_one_by_one()
    {
        IHtmlDocument document = await Pages.ParseAsync("plan, full");
        Assert.Equal(
            ["/planning?position=wash-pump", "/planning?site=pier-4", "/planning"],
            document.QuerySelectorAll(".only a").Select(link => link.GetAttribute("href")));
    }

    [Fact]
    public async Task Visits_on_later_pages_can_be_printed_together()
    {
        Assert.Empty((await Pages.ParseAsync("plan, full")).QuerySelectorAll("a[href*='all=yes']"));
        string page = await Pages.RenderAsync("plan, more visits");
        Assert.Contains("/planning?site=pier-4&amp;position=wash-pump&amp;all=yes", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_trial_is_shown_beside_the_plan_with_what_changes()
    {
        IHtmlDocument document = await Pages.ParseAsync("what if, tried");
        Assert.Equal(
            ["+42", "+69", "+27,270 EUR", "−9.80", "−49.0", "+9,202 EUR", "+36,472 EUR"],
            document.QuerySelectorAll("td[data-label=Difference]").Select(cell => cell.TextContent));
        Assert.Contains("replace at 324 days instead of: run to failure", document.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
        Assert.Equal("2500", document.QuerySelector("input[name=failure_cost]")!.GetAttribute("value"));
    }

    [Theory]
    [InlineData(20, "20 min")]
    [InlineData(90, "1 h 30 min")]
    [InlineData(3540, "59 h")]
    [InlineData(double.NaN, "not known")]
    public void Work_is_told_in_hours_however_much_it_is(double minutes, string told) => Assert.Equal(told, PlanWords.Work(minutes));

    [Theory]
    [InlineData(0.0, "0 EUR")]
    [InlineData(12.5, "12.50 EUR")]
    [InlineData(23_989.4, "23,989 EUR")]
    [InlineData(null, "not known")]
    public void Money_is_told_with_its_currency(double? amount, string told) => Assert.Equal(told, PlanWords.Money(amount, "EUR"));
}
