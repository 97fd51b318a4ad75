using System.Text.RegularExpressions;

namespace Washwear.Api.Tests.House;

/// <summary>The page of threats names tests that are there.</summary>
public sealed partial class ThreatTests
{
    [Fact]
    public void Every_test_that_the_page_of_threats_names_exists()
    {
        string page = File.ReadAllText(Path.Combine(Repository.Root, "DEVELOPERS.md"));
        string threats = page[page.IndexOf("## Threats", StringComparison.Ordinal)..page.IndexOf("## Work", StringComparison.Ordinal)];
        string[] named = [.. Name().Matches(threats).Select(match => match.Groups[1].Value).Distinct()];
        string tests = string.Concat(Repository.Files("tests", "*Tests.cs").Select(File.ReadAllText));
        Assert.True(named.Length > 25, $"only {named.Length} tests are named");
        string[] missing = [.. named.Where(name => !tests.Contains(name + "(", StringComparison.Ordinal))];
        Assert.True(missing.Length == 0, "No such test: " + string.Join(", ", missing));
    }

    [Theory]
    [InlineData("API", 10)]
    [InlineData("V", 12)]
    public void Every_item_of_the_lists_has_a_row(string list, int items)
    {
        string page = File.ReadAllText(Path.Combine(Repository.Root, "DEVELOPERS.md"));
        string threats = page[page.IndexOf("## Threats", StringComparison.Ordinal)..page.IndexOf("## Work", StringComparison.Ordinal)];
        Assert.True(
            Regex.Matches(threats, $@"\b{list}\d+(\.\d+)*").Select(match => match.Value).Distinct().Count() >= items, $"fewer than {items} items of {list}");
    }

    [GeneratedRegex("`([A-Z][A-Za-z0-9]*(?:_[A-Za-z0-9]+){3,})`")]
    private static partial Regex Name();
}
