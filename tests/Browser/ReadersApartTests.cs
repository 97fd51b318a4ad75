using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>What is kept in memory for one reader is not given to another who reads in another way, nor to programs.</summary>
public sealed partial class ReadersApartTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private static readonly string[] Pages =
        ["/failures", "/planning", "/planning/parts", "/planning/stock", "/planning/forecast", "/repairs", "/part-life?position=wash-pump", "/", "/cleaning", "/units/OVEN-0001"];

    private static readonly string[] Answers =
        ["/v1/failures/trend", "/v1/failures/rates", "/v1/plan/visits", "/v1/plan/replacements", "/v1/plan/stock", "/v1/plan/failures", "/v1/plan/companions", "/v1/plan/decisions", "/v1/repairs/quality", "/v1/today", "/v1/part-life/wash-pump"];

    [Fact]
    public async Task After_somebody_who_writes_commas_before_decimals_everybody_else_reads_points_as_before()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        int commas = 0;
        foreach (string path in Pages)
        {
            commas += Comma().Count(await TextAsync(session, path, "de-DE"));
            string english = await TextAsync(session, path, "en-GB");
            Assert.False(Comma().IsMatch(english), path + " shows " + Comma().Match(english).Value);
        }

        Assert.True(commas > 20, $"only {commas} decimals with a comma: nothing was tried");
        foreach (string path in Answers)
        {
            IAPIResponse answer = await session.APIRequest.GetAsync(new Uri(fleet.Address, path).ToString(), new() { Headers = Asking("de-DE", "application/json") });
            string json = await answer.TextAsync();
            Assert.True(answer.Ok, path + ": " + json);
            Assert.False(Comma().IsMatch(InText(json)), path + " says " + Comma().Match(InText(json)).Value);
        }
    }

    private async Task<string> TextAsync(IBrowserContext session, string path, string language)
    {
        IAPIResponse answer = await session.APIRequest.GetAsync(new Uri(fleet.Address, path).ToString(), new() { Headers = Asking(language, "text/html") });
        Assert.True(answer.Ok, $"{path}: {answer.Status}");
        return Tag().Replace(await answer.TextAsync(), "\n");
    }

    private static Dictionary<string, string> Asking(string language, string type) => new() { ["Accept-Language"] = language, ["Accept"] = type };

    // Between numbers of a list in JSON there is a comma too: only what stands in quotes is text.
    private static string InText(string json) => string.Join('\n', Quoted().Matches(json).Select(match => match.Value));

    [GeneratedRegex(@"(?<![\w,.-])\d{1,3},\d{1,2}(?![\d,])")]
    private static partial Regex Comma();

    [GeneratedRegex("<(?:[^<>\"]|\"[^\"]*\")*>")]
    private static partial Regex Tag();

    [GeneratedRegex("\"(?:[^\"\\\\]|\\\\.)*\"")]
    private static partial Regex Quoted();
}
