using System.Collections;
using System.Reflection;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Texts;

/// <summary>A page in German says nothing of its own in English: what a text was read for too early, or written into the page, is found here.</summary>
public sealed partial class GermanPageTests
{
    private const int LeastLength = 16;

    // Pieces of English texts between their places for values, where the German text is another one.
    private static readonly (string Key, string Piece)[] English = [.. Pieces().DistinctBy(one => one.Piece)];

    [Theory]
    [ClassData(typeof(Pages))]
    public async Task A_German_page_shows_no_English_text(string page)
    {
        using IDisposable reader = ReaderPreferences.Use(TextFileTests.German);
        IHtmlDocument document = await Pages.ParseAsync(page, TextFileTests.German);
        Assert.Equal("de", document.DocumentElement.GetAttribute("lang"));
        string shown = Shown(document);

        // What the report of the sample says is data: it was made in English.
        string[] told = [.. Told(Pages.Report(page)).Distinct()];
        string[] offenders =
        [
            .. English.Where(one => shown.Contains(one.Piece, StringComparison.Ordinal) && !told.Any(text => text.Contains(one.Piece, StringComparison.Ordinal)))
                .Select(one => $"{one.Key}: '{one.Piece}'"),
        ];
        Assert.True(offenders.Length == 0, $"{page}:\n{string.Join('\n', offenders)}");
    }

    [Fact]
    public async Task The_look_finds_a_page_that_is_in_English()
    {
        string shown = Shown(await Pages.ParseAsync("today, full"));
        Assert.Contains(English, one => one.Key.StartsWith("Today/", StringComparison.Ordinal) && shown.Contains(one.Piece, StringComparison.Ordinal));
    }

    private static IEnumerable<(string Key, string Piece)> Pieces()
    {
        foreach (string file in TextFileTests.Files)
        {
            SortedDictionary<string, string> german = TextFileTests.Texts(file, "de");
            foreach ((string key, string text) in TextFileTests.Texts(file, ReaderPreferences.English))
            {
                foreach (string piece in Place().Split(text).Where(piece => piece.Length >= LeastLength && !german[key].Contains(piece, StringComparison.Ordinal)))
                {
                    yield return (file + "/" + key, piece);
                }
            }
        }
    }

    // Every text of a report, wherever in it.
    private static IEnumerable<string> Told(object? value) => value switch
    {
        null => [],
        string text => [text],
        IEnumerable many => many.Cast<object?>().SelectMany(Told),
        _ when value.GetType() is { IsEnum: false, Namespace: { } space } type && (space.StartsWith("Washwear", StringComparison.Ordinal) || type.Name.StartsWith("KeyValuePair", StringComparison.Ordinal)) =>
            type.GetProperties(BindingFlags.Instance | BindingFlags.Public).Where(property => property.GetIndexParameters().Length == 0).SelectMany(property => Told(property.GetValue(value))),
        _ => [],
    };

    // What is seen or read aloud, but for what is marked as English: words of the API and what was kept.
    private static string Shown(IHtmlDocument document)
    {
        foreach (IElement other in document.QuerySelectorAll("body [lang=en]"))
        {
            other.Remove();
        }

        IEnumerable<string> spoken = document.All.SelectMany(element => new[] { "aria-label", "title", "alt", "placeholder", "data-label", "data-words" }.Select(element.GetAttribute)).OfType<string>();
        return Space().Replace(string.Join('\n', spoken.Append(document.DocumentElement.TextContent)), " ");
    }

    [GeneratedRegex(@"\{[a-z_]+[}|]|[|}]")]
    private static partial Regex Place();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Space();
}
