using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Tests.Texts;

namespace Washwear.Dashboard.Tests.Planning;

/// <summary>Figures of planning are explained where they stand, with an example from the reader's own data.</summary>
public sealed class FigureHelpTests
{
    [Theory]
    [InlineData("plan, full")]
    [InlineData("plan parts, full")]
    public async Task Every_fact_is_explained_beneath_it(string page)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        IElement facts = document.QuerySelector("dl.facts")!;
        string[] explained = [.. facts.NextElementSibling!.QuerySelectorAll("p b").Select(name => name.TextContent)];
        string[] figures = [.. facts.QuerySelectorAll("dt").Select(name => name.TextContent).Where(name => name is not ("A planned replacement costs" or "A failure costs"))];
        Assert.All(figures, figure => Assert.Contains(figure, explained));
        Assert.Equal(page == "plan parts, full", explained.Contains("The two costs"));
    }

    [Theory]
    [InlineData("plan, full", "For wash pump of OVEN-1 it is 12 %: of a thousand parts as old as this one about 120 would fail in that time.")]
    [InlineData("plan, full", "Here 1 visit with its parts comes to 412 EUR.")]
    [InlineData("plan, full", "no other plan could save more than 3.")]
    [InlineData("plan parts, full", "For wash pump that is 360 to 470 washes.")]
    [InlineData("plan parts, full", "For wash pump that is 120 EUR a year, with 24 fitted about 2,880 EUR in all.")]
    [InlineData("plan parts, full", "Here it is 3.10, and by what is on record it lies between 2.40 and 4.00.")]
    [InlineData("plan parts, full", "Here a failure costs 1,240 EUR and a planned replacement 360 EUR, that is 3.44 times as much.")]
    [InlineData("plan parts, full", "For pump suction hose while it is open for wash pump that is 240 EUR, give or take 44 EUR.")]
    [InlineData("plan stock, full", "For P/100-2 at Depot north it is 31 %: in 69 of 100 such times it would not last.")]
    [InlineData("plan forecast, full", "For P/100-2, Wash pump: 0 to 5 failures.")]
    [InlineData("plan forecast, full", "Here 6.10 were expected of 60 parts and 7 failed, which comes by chance in 71 % of cases.")]
    [InlineData("plan forecast, full", "Of the 40 parts of which 0 % to 10 % was said, 5 % on average, 5 % failed.")]
    [InlineData("what if, tried", "Here 103 failures bring 508 days as things are, about 4.93 each.")]
    public async Task An_example_has_the_readers_own_figures(string page, string example) =>
        Assert.Contains(example, (await Pages.ParseAsync(page)).QuerySelector("main")!.TextContent, StringComparison.Ordinal);

    [Theory]
    [InlineData("plan, full")]
    [InlineData("plan parts, full")]
    [InlineData("plan stock, full")]
    [InlineData("plan forecast, full")]
    [InlineData("what if, tried")]
    public async Task Each_meaning_has_two_sentences_in_every_language(string page)
    {
        foreach (ReaderPreferences reader in new[] { ReaderPreferences.Standard, TextFileTests.German })
        {
            using IDisposable reading = ReaderPreferences.Use(reader);
            IElement[] meanings = [.. (await Pages.ParseAsync(page)).QuerySelectorAll("details p:has(> b:first-child)")];
            Assert.NotEmpty(meanings);
            Assert.All(meanings, meaning =>
            {
                Assert.EndsWith(".", meaning.TextContent, StringComparison.Ordinal);
                Assert.DoesNotContain("{", meaning.TextContent, StringComparison.Ordinal);

                // A number's own point has no space behind it.
                Assert.Equal(1, meaning.TextContent.Split(". ").Length - 1);
            });
        }
    }
}
