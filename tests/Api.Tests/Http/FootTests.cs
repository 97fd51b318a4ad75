using System.Net;
using AngleSharp.Html.Dom;
using Washwear.Api.Security;
using Washwear.Api.Tests.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Tests.Http;

/// <summary>The foot of every page leads those who administer to what else has no way to it.</summary>
public sealed class FootTests
{
    [Fact]
    public async Task Whoever_administers_gets_from_every_page_to_people_keys_upkeep_and_audit_and_nobody_else_is_shown_the_way()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        string[] links = await LinksAsync(host.Admin);
        Assert.Empty(new[] { Urls.People, Urls.Keys, Urls.Upkeep, Urls.AuditRoute }.Except(links));
        foreach (string link in links)
        {
            using HttpResponseMessage page = await Forms.ReadAsync(host.Admin, link);
            Assert.True(page.StatusCode == HttpStatusCode.OK, $"{link}: {page.StatusCode}");
        }

        Assert.Empty(await LinksAsync(await host.ClientAsync(Abilities.All & ~Abilities.Administer, "desk")));
    }

    private static async Task<string[]> LinksAsync(HttpClient reader)
    {
        using HttpResponseMessage answer = await Forms.ReadAsync(reader, Urls.Today);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        IHtmlDocument page = await Forms.PageAsync(answer);
        return [.. page.QuerySelectorAll("footer nav a").Select(link => link.GetAttribute("href")!)];
    }
}
