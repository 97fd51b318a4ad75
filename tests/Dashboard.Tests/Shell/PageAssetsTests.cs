using System.Text;
using System.Text.RegularExpressions;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class PageAssetsTests
{
    [Fact]
    public void Style_sheets_script_and_icon_travel_in_the_assembly() =>
        Assert.Equal(["close-out.js", "favicon.svg", "figures.js", "on-device.js", "outbox-store.js", "outbox.js", "reference.css", "reference.js", "site.css", "site.js", "texts.js", "visit-worker.js"],
            PageAssets.All.Where(asset => asset.Content.Length > 100 && !asset.Name.Contains("-texts.", StringComparison.Ordinal)).Select(asset => asset.Name).Order());

    [Fact]
    public void What_a_script_tells_comes_in_the_readers_language_as_a_file_of_its_own()
    {
        using (ReaderPreferences.Use(Texts.TextFileTests.German))
        {
            Assert.StartsWith("/assets/frame-texts.de.js?v=", PageAssets.TextsUrl("Frame"), StringComparison.Ordinal);
        }

        Assert.StartsWith("const FrameTexts = {", Encoding.UTF8.GetString(PageAssets.Find("frame-texts.de.js")!.Content.Span), StringComparison.Ordinal);
        Assert.Contains("Diese Zeilen als CSV", Encoding.UTF8.GetString(PageAssets.Find("frame-texts.de.js")!.Content.Span), StringComparison.Ordinal);
        Assert.StartsWith("/assets/frame-texts.en.js?v=", PageAssets.TextsUrl("Frame"), StringComparison.Ordinal);
    }


    [Fact]
    public void An_address_changes_when_the_content_does() => Assert.Matches("^/assets/site\\.css\\?v=[0-9a-f]{12}$",
        PageAssets.Url("site.css"));

    [Fact]
    public void The_style_sheet_asks_nothing_of_other_places() =>
        Assert.DoesNotMatch("(?i)url\\(|@import|https?:", Encoding.UTF8.GetString(PageAssets.Find("site.css")!.Content.Span));

    [Fact]
    public void Braces_of_the_style_sheet_are_balanced()
    {
        string css = Encoding.UTF8.GetString(PageAssets.Find("site.css")!.Content.Span);
        Assert.Equal(css.Count(character => character == '{'), css.Count(character => character == '}'));
    }

    [Fact]
    public void Every_colour_variable_that_is_used_is_defined()
    {
        string css = Encoding.UTF8.GetString(PageAssets.Find("site.css")!.Content.Span);
        string[] defined = [.. Regex.Matches(css, @"(--[a-z-]+):").Select(match => match.Groups[1].Value)];
        Assert.All(Regex.Matches(css, @"var\((--[a-z-]+)\)"), match => Assert.Contains(match.Groups[1].Value, defined));
    }
}
