using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

/// <summary>The page of the design language, the style sheet and the pages agree.</summary>
public sealed partial class DesignLanguageTests
{
    // Classes that scripts and tests hold on to; they look like nothing.
    private static readonly HashSet<string> Hooks = new(StringComparer.Ordinal)
    {
        "close-out-form", "import-map", "checks-why", "sheet-causes", "nav-main",

        // States that look like what they stand in.
        "oven-nothing-to-do", "verdict-taken-in",
    };

    private static readonly string Css = Encoding.UTF8.GetString(PageAssets.Find("site.css")!.Content.Span);

    // Without the colours of charts, which ContrastTests look at.
    private static readonly string Own = Css.Replace(Inks.Css(), string.Empty, StringComparison.Ordinal);

    [Fact]
    public void Every_pair_of_colours_that_the_page_names_has_the_contrast_that_it_tells_in_light_and_dark()
    {
        Dictionary<string, string> light = ContrastTests.Variables(dark: false);
        Dictionary<string, string> dark = ContrastTests.Variables(dark: true);
        Match[] pairs = [.. Pair().Matches(Page()).Select(match => match)];
        Assert.True(pairs.Length > 20, $"only {pairs.Length} pairs");
        Assert.All(pairs, pair =>
        {
            (string one, string other) = (pair.Groups[1].Value, pair.Groups[2].Value);
            double[] told = [.. Enumerable.Range(3, 3).Select(i => double.Parse(pair.Groups[i].Value, CultureInfo.InvariantCulture))];
            double[] found = [ContrastTests.Ratio(light[one], light[other]), ContrastTests.Ratio(dark[one], dark[other])];
            Assert.True(Math.Abs(found[0] - told[0]) <= 0.006 && Math.Abs(found[1] - told[1]) <= 0.006, $"{one} on {other}: {found[0]:0.00}, {found[1]:0.00}");
            Assert.True(Math.Min(found[0], found[1]) >= told[2], $"{one} on {other} is below {told[2]}");
        });
    }

    [Fact]
    public void Every_colour_of_the_style_sheet_is_explained_and_has_a_dark_one()
    {
        string[] tokens = [.. ContrastTests.Variables(dark: false).Keys];
        string page = Page();
        Assert.All(tokens, token => Assert.Contains("`" + token + "`", page, StringComparison.Ordinal));
        string darkBlock = Regex.Matches(Css, @":root\s*\{([^}]*)\}")[1].Groups[1].Value;
        Assert.All(tokens, token => Assert.Contains("--" + token + ":", darkBlock, StringComparison.Ordinal));

        Assert.DoesNotContain(Colour().Matches(Own[Own.IndexOf("*, *::before", StringComparison.Ordinal)..]).Select(match => match.Value), colour => colour != "#000");
    }

    // A head comes again on each sheet, but what is a button or a block within it is drawn on the first one only.
    [Fact]
    public void Heads_that_come_again_on_paper_keep_their_words() =>
        Assert.Matches(@"\.sort \{ display: contents; \}", Css[Css.IndexOf("@page { margin: 11mm", StringComparison.Ordinal)..]);

    [Fact]
    public async Task Every_class_of_a_page_has_a_rule_and_every_rule_has_a_page()
    {
        HashSet<string> ruled = Classes(Css);
        HashSet<string> worn = [];
        foreach (string name in new Pages())
        {
            IHtmlDocument page = await Pages.ParseAsync(name);
            worn.UnionWith(page.All.Where(element => element.ClassName is not null && element.Closest("svg[role=img]") is null).SelectMany(element => element.ClassList));
        }

        worn.ExceptWith(Hooks);
        Assert.Empty(worn.Except(ruled).Order());

        // What a sample does not happen to show is written out somewhere in the pages or their scripts, or begins with what is put together there.
        string sources = Sources();
        Assert.DoesNotContain(Classes(Own).Except(worn), name => !Regex.IsMatch(sources, $"(?<![\\w-]){Regex.Escape(name)}(?![\\w-])") && !IsPutTogether(sources, name));
    }

    private static HashSet<string> Classes(string css) =>
        [.. Class().Matches(Body().Replace(Comment().Replace(css, string.Empty), "{}")).Select(match => match.Groups[1].Value)];

    private static bool IsPutTogether(string sources, string name) =>
        name.Contains('-', StringComparison.Ordinal) && Regex.IsMatch(sources, "class=\"[^\"]*(?<![\\w-])" + Regex.Escape(name[..(name.IndexOf('-', StringComparison.Ordinal) + 1)]) + "@");

    private static string Page() => File.ReadAllText(Path.Combine(Root(), "docs", "design-language.md"));

    private static string Sources() => string.Join('\n', new[] { "*.razor", "*.cs", "*.js" }
        .SelectMany(kind => Directory.EnumerateFiles(Path.Combine(Root(), "src", "Dashboard"), kind, SearchOption.AllDirectories))
        .Where(file => !file.Contains(Path.DirectorySeparatorChar + "obj" + Path.DirectorySeparatorChar, StringComparison.Ordinal))
        .Select(File.ReadAllText));

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Washwear.slnx")))
        {
            folder = folder.Parent;
        }

        return folder!.FullName;
    }

    [GeneratedRegex(@"^\| `([a-z-]+)` \| `([a-z-]+)` \| ([0-9.]+) \| ([0-9.]+) \| ([0-9.]+) \|", RegexOptions.Multiline)]
    private static partial Regex Pair();

    // The colour of a declaration; a hash in a selector is an id.
    [GeneratedRegex(@"(?<=:[^;{}]*)#[0-9a-fA-F]{3,8}\b(?=[^{}]*[;}])")]
    private static partial Regex Colour();

    [GeneratedRegex(@"\.(-?[a-zA-Z_][\w-]*)")]
    private static partial Regex Class();

    [GeneratedRegex(@"\{[^{}]*\}")]
    private static partial Regex Body();

    [GeneratedRegex(@"/\*.*?\*/", RegexOptions.Singleline)]
    private static partial Regex Comment();
}
