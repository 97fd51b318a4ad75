using System.Net;
using AngleSharp.Html.Dom;
using Washwear.Api.Security;
using Washwear.Api.Tests.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Tests.Http;

/// <summary>The frame leads each reader to all that they may see, and to nothing that would refuse them.</summary>
public sealed class NavigationTests
{
    private static readonly string[] OfAdministrators = [Urls.People, Urls.Keys, Urls.Upkeep, Urls.AuditRoute];

    [Fact]
    public async Task Every_link_of_the_frame_opens_for_those_who_are_shown_it_and_nobody_is_shown_what_is_not_theirs()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        string[] all = await LinksAsync(host.Admin, Urls.Today);
        Assert.Empty(OfAdministrators.Append(Urls.Import).Append(Urls.SharedLinks).Except(all));
        HttpClient reader = await host.ClientAsync(Abilities.Read, "reader");
        string[] ofReader = await LinksAsync(reader, Urls.Today);
        Assert.Empty(ofReader.Intersect(OfAdministrators.Append(Urls.Import).Append(Urls.SharedLinks)));
        Assert.True(ofReader.Length > 15, $"only {ofReader.Length} links");
        foreach ((HttpClient client, string link) in all.Select(link => (host.Admin, link)).Concat(ofReader.Select(link => (reader, link))))
        {
            using HttpResponseMessage page = await Forms.ReadAsync(client, link);

            // These clients come with a key and have no account; the reference leads on to its first page.
            Assert.True(page.StatusCode == HttpStatusCode.OK || link is Urls.Account || (link is Urls.Reference && (int)page.StatusCode < 400), $"{link}: {page.StatusCode}");
        }
    }

    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/join?token=nobody")]
    public async Task A_stranger_is_shown_no_way_into_what_only_those_who_are_signed_in_may_see(string path)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        Assert.Equal([Urls.Today], await LinksAsync(host.Stranger, path));
    }

    private static async Task<string[]> LinksAsync(HttpClient reader, string path)
    {
        using HttpResponseMessage answer = await Forms.ReadAsync(reader, path);
        IHtmlDocument page = await Forms.PageAsync(answer);
        return [.. page.QuerySelectorAll("header a, footer a").Select(link => link.GetAttribute("href")!).Distinct()];
    }
}
