using AngleSharp.Html.Dom;
using Washwear.Dashboard.Account;
using Washwear.Dashboard.People;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Account;

/// <summary>Where somebody is signed in is told in words that they know it by, never in those in which browsers speak of themselves.</summary>
public sealed class SessionDeviceTests
{
    private static readonly DateTimeOffset Begun = new(2026, 3, 1, 9, 30, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("Invented/5.0 (Linux; Phone 7) Engine/1.2 Mobile Reader/9", "A phone")]
    [InlineData("Invented/5.0 (Desk; x64) Engine/1.2 Reader/9", "A computer or tablet")]
    [InlineData("somebodys-own-program/1.0", "A program")]
    [InlineData("", "Not told what")]
    public async Task A_session_says_plainly_what_it_is_since_when_and_when_it_was_used_last(string agent, string told)
    {
        AccountReport report = new("anna", "Anna", true, false, [new SessionEntry(1, 1, "anna", Begun, Begun.AddHours(5), "192.0.2.7", agent)], 1, 12, null, null);
        IHtmlDocument page = await Markup.ParseAsync(typeof(AccountPage), report, Samples.Context);
        string row = page.QuerySelector("#sessions ~ table tbody tr")!.TextContent;
        Assert.StartsWith(told, row.Trim(), StringComparison.Ordinal);
        Assert.Contains("from 192.0.2.7", row, StringComparison.Ordinal);
        Assert.Contains(Text.Moment(Begun, Samples.Context.TimeZone), row, StringComparison.Ordinal);
        Assert.Contains(Text.Moment(Begun.AddHours(5), Samples.Context.TimeZone), row, StringComparison.Ordinal);
        Assert.DoesNotContain("Engine", page.Body!.TextContent, StringComparison.Ordinal);
    }
}
