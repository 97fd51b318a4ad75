using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class ProblemPageTests
{
    [Fact]
    public async Task What_was_asked_wrongly_leads_to_the_same_page_without_choices()
    {
        var report = new ProblemReport(400, "Invalid", "It breaks a rule.", "state: 'x' is none of the choices.", null) { AskedWrongly = true };
        Assert.Equal(["/cleaning", "/"], await WaysAsync(report, Samples.Context with { Address = "/cleaning?state=x" }));
    }

    [Fact]
    public async Task A_code_that_nobody_knows_can_be_searched_for()
    {
        var report = new ProblemReport(404, "Not found", "There is no unit 'OVEN 99'.", string.Empty, null) { Kind = "not_found" };
        PageContext reader = Samples.Context with { Address = "/units/OVEN%2099" };
        Assert.Equal(["/search?q=OVEN%2099", "/"], await WaysAsync(report, reader));
        Assert.StartsWith("Nothing that you may see is on record under 'OVEN 99'.", await SaidAsync(report, reader), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_address_that_no_page_has_leads_to_the_first_page()
    {
        var report = new ProblemReport(404, "Not found", "Nothing.", string.Empty, null) { Kind = "not_found", IsUsual = true };
        Assert.Equal(["/"], await WaysAsync(report, Samples.Context with { Address = "/nothing" }));
        Assert.Equal(["/"], await WaysAsync(report with { IsUsual = false }, Samples.Context with { Address = "/units/X", SignedInName = null }));
    }

    [Fact]
    public async Task Whoever_asks_too_often_or_meets_a_damaged_file_is_told_what_a_person_can_do()
    {
        var often = new ProblemReport(429, "Too many", "Wait as long as Retry-After says.", string.Empty, null) { Kind = "too_many" };
        Assert.Equal("Wait some minutes, then try again.", await SaidAsync(often, Samples.Context));
        var damaged = new ProblemReport(500, "Failure", "The database file is damaged.", string.Empty, "trace") { Kind = "failure" };
        Assert.Equal("The database file is damaged. It is not your fault. Tell whoever keeps this service.", await SaidAsync(damaged, Samples.Context));
    }

    private static async Task<string> SaidAsync(ProblemReport report, PageContext reader)
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(ProblemPage), report, reader);
        return string.Join(' ', document.QuerySelectorAll("h1 ~ p:not(.note, .import-buttons)").Select(told => told.TextContent));
    }

    private static async Task<string[]> WaysAsync(ProblemReport report, PageContext context)
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(ProblemPage), report, context);
        Assert.Equal("Error " + report.Status, document.QuerySelector(".kicker")!.TextContent);
        return [.. document.QuerySelectorAll("main a.button").Select(link => link.GetAttribute("href")!)];
    }
}
