using System.Text.RegularExpressions;

namespace Washwear.Dashboard.Tests.Texts;

/// <summary>Scripts tell a reader nothing that does not come from the files of texts.</summary>
public sealed partial class ScriptTextTests
{
    private static readonly string[] Scripts = ["site.js", "figures.js", "outbox.js", "texts.js", "close-out.js", "on-device.js", "outbox-store.js", "visit-worker.js"];

    public static TheoryData<string> Names() => [.. Scripts];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_script_has_no_text_of_its_own(string name)
    {
        string[] offenders = [.. Prose(Source(name))];
        Assert.True(offenders.Length == 0, $"{name}:\n{string.Join('\n', offenders)}");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_script_asks_for_no_text_that_there_is_not(string name)
    {
        foreach (IGrouping<string, Match> asked in Asked().Matches(Source(name)).GroupBy(match => match.Groups[1].Value))
        {
            IEnumerable<string> known = TextFileTests.Texts(asked.Key + "Scripts", "en").Keys.Select(key => key.Split('/')[0]);
            Assert.All(asked.Select(match => match.Groups[2].Value), key => Assert.Contains(key, known));
        }
    }

    [Theory]
    [InlineData("button.textContent = \"These rows as CSV\";", true)]
    [InlineData("told.push(names + \" waits here\");", true)]
    [InlineData("console.info(\"Nothing can be kept: \" + error);", false)]
    [InlineData("button.className = \"quiet table-file\";", false)]
    [InlineData("near.querySelector(\".figure-links a[href*='csv']\")", false)]
    public void What_a_script_says_of_its_own_is_found(string source, bool found) => Assert.Equal(found, Prose(source).Any());

    // Words with a space: not names of classes, selectors, or what goes to the console or is thrown.
    private static IEnumerable<string> Prose(string source) => source.Split('\n')
        .Where(line => !line.TrimStart().StartsWith("//", StringComparison.Ordinal) && !Machine().IsMatch(line))
        .SelectMany(line => Literal().Matches(line).Select(match => match.Value))
        .Where(literal => Words().IsMatch(literal));

    private static string Source(string name) => File.ReadAllText(Path.Combine(TextFileTests.Root(), "src", "Dashboard", "wwwroot", name));

    [GeneratedRegex("\"(?:[^\"\\\\]|\\\\.)*\"")]
    private static partial Regex Literal();

    [GeneratedRegex("[A-Za-z]+[,.:;]? [A-Za-z]")]
    private static partial Regex Words();

    [GeneratedRegex(@"console\.|new Error\(|class: |className|querySelector|closest\(|matches\(|""use strict""")]
    private static partial Regex Machine();

    [GeneratedRegex(@"\b([A-Z][a-z]+)Texts\.([a-z_]+)")]
    private static partial Regex Asked();
}
