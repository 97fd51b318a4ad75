using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests;

/// <summary>What holds for every page, whatever its report.</summary>
public sealed class PageRulesTests
{
    [Theory]
    [ClassData(typeof(Pages))]
    public async Task A_page_has_one_first_heading_one_main_and_says_its_language(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        Assert.Single(document.QuerySelectorAll("h1"));
        Assert.Single(document.QuerySelectorAll("main#main"));
        Assert.Equal(page.EndsWith(", German", StringComparison.Ordinal) ? "de" : "en", document.DocumentElement.GetAttribute("lang"));
        Assert.NotEmpty(document.Title!);
        Assert.Equal("#main", document.QuerySelector("body > a")!.GetAttribute("href"));
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Every_table_has_a_caption_and_scoped_headings_and_rows_as_long_as_its_head(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        foreach (IElement table in document.QuerySelectorAll("table"))
        {
            string where = table.OuterHtml[..Math.Min(200, table.OuterHtml.Length)];
            Assert.False(string.IsNullOrWhiteSpace(table.QuerySelector("caption")?.TextContent), where);
            Assert.All(table.QuerySelectorAll("th"), th => Assert.True(th.GetAttribute("scope") is "col" or "row", where));
            int columns = table.QuerySelectorAll("thead th").Length;
            Assert.All(table.QuerySelectorAll("tbody tr, tfoot tr"), row => Assert.Equal(columns, row.Children.Length));
        }
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Nothing_is_inline_that_the_content_policy_would_block(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        Assert.Empty(document.QuerySelectorAll("[style]"));
        Assert.Empty(document.QuerySelectorAll("style"));
        Assert.All(document.QuerySelectorAll("script"), script => Assert.StartsWith(script.GetAttribute("src") is "/reference/swagger-ui-bundle.js" ? "/reference/" : "/assets/", script.GetAttribute("src"),
            StringComparison.Ordinal));
        IEnumerable<IAttr> handlers = document.All.SelectMany(element => element.Attributes)
            .Where(attribute => attribute.Name.StartsWith("on", StringComparison.OrdinalIgnoreCase));
        Assert.Empty(handlers.Select(attribute => attribute.Name + "=" + attribute.Value));
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Every_chart_has_words_for_those_who_cannot_see_it_and_a_table_with_its_numbers(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        foreach (IElement figure in document.QuerySelectorAll("figure"))
        {
            Assert.False(string.IsNullOrWhiteSpace(figure.QuerySelector("figcaption")?.TextContent));
            Assert.NotEmpty(figure.QuerySelectorAll("details table tbody tr"));
            IHtmlCollection<IElement> pictures = figure.QuerySelectorAll("svg[role=img]");
            Assert.Equal(2, pictures.Length);
            foreach (IElement picture in pictures)
            {
                string[] ids = picture.GetAttribute("aria-labelledby")!.Split(' ');
                Assert.All(ids, id => Assert.False(string.IsNullOrWhiteSpace(document.GetElementById(id)?.TextContent), id));
                Assert.NotNull(picture.GetAttribute("viewBox"));
            }
        }
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Ids_are_unique_and_every_reference_to_one_finds_it(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        string[] ids = [.. document.QuerySelectorAll("[id]").Select(element => element.Id!)];
        Assert.Equal(ids.Distinct().Count(), ids.Length);
        IEnumerable<string> wanted = document.QuerySelectorAll("[aria-labelledby], [aria-describedby], [for]")
            .SelectMany(element => new[] { "aria-labelledby", "aria-describedby", "for" }.Select(element.GetAttribute))
            .OfType<string>().SelectMany(value => value.Split(' '));
        Assert.All(wanted, id => Assert.Contains(id, ids));
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Every_link_is_one_that_Urls_composes_and_stays_on_this_service(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        IEnumerable<string> links = document.QuerySelectorAll("a[href], form[action], link[href], script[src]")
            .Select(element => element.GetAttribute("href") ?? element.GetAttribute("action") ?? element.GetAttribute("src")!);
        string[] heads =
        [
            "#main", "/?", "/#", "/cleaning", "/sites", "/operators", "/search", "/part-life", "/units", "/reference", "/openapi/", "/sign-in", "/sign-out", "/join", "/account", "/people", "/keys", "/upkeep", "/help", "/audit", "/alerts", "/digest", "/failures", "/visits", "/approvals", "/repairs", "/planning", "/import", "/links", "/assets/", "/charts/", "/v1/",
        ];
        string[] ids = [.. document.QuerySelectorAll("[id]").Select(element => "#" + element.Id)];
        Assert.All(links, link => Assert.True(link == Urls.Today || ids.Contains(link) || heads.Any(head => link.StartsWith(head, StringComparison.Ordinal)),
            link));
        Assert.All(links, link => Assert.DoesNotContain(link, character => character is '<' or '>' or '"' or ' '));
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Names_are_shown_as_text_and_never_become_markup(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        Assert.DoesNotContain(document.QuerySelectorAll("script"), script => script.TextContent.Length > 0);
        if (page.EndsWith("hostile", StringComparison.Ordinal))
        {
            Assert.Contains("<script>alert(1)</script>", document.Body!.TextContent, StringComparison.Ordinal);
            Assert.DoesNotContain("<script>alert", await Pages.RenderAsync(page), StringComparison.Ordinal);
        }
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task No_page_shows_a_figure_that_is_not_a_number(string page)
    {
        string html = await Pages.RenderAsync(page);
        Assert.DoesNotContain("NaN", html, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", html, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", html, StringComparison.Ordinal);
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Every_form_control_has_a_label_and_every_form_that_changes_something_carries_the_token(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        foreach (IElement control in document.QuerySelectorAll("select, input:not([type=hidden])"))
        {
            bool wrapped = control.Closest("label") is not null;
            Assert.True(wrapped || document.QuerySelector($"label[for='{control.Id}']") is not null, control.OuterHtml);
        }

        Assert.All(document.QuerySelectorAll("form[method=post]"), form =>
            Assert.NotEmpty(form.QuerySelector("input[name=__RequestVerificationToken]")!.GetAttribute("value")!));
    }

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task Colour_is_never_the_only_sign_of_a_state(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        foreach (IElement state in document.QuerySelectorAll(".state"))
        {
            Assert.NotNull(state.QuerySelector("svg > *"));
            Assert.False(string.IsNullOrWhiteSpace(state.ParentElement!.TextContent));
        }
    }
}
