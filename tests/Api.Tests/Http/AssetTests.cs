using System.Net;
using System.Text.RegularExpressions;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Tests.Http;

/// <summary>The files that pages need come whole and without a key.</summary>
public sealed partial class AssetTests
{
    [Fact]
    public async Task What_the_sign_in_page_asks_for_comes_whole_and_may_be_kept()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        string page = await host.Stranger.GetStringAsync("/sign-in");
        string[] addresses = [.. Address().Matches(page).Select(found => found.Groups[1].Value)];

        Assert.Equal(4, addresses.Length);
        foreach (string address in addresses)
        {
            using HttpResponseMessage answer = await host.Stranger.GetAsync(address);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.NotEmpty(await answer.Content.ReadAsByteArrayAsync());
            Assert.True(answer.Headers.CacheControl!.MaxAge > TimeSpan.FromDays(300));
        }
    }

    [Fact]
    public async Task Every_file_is_served_as_what_it_is()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        Assert.True(PageAssets.All.Count >= 3);
        foreach (Asset asset in PageAssets.All)
        {
            using HttpResponseMessage answer = await host.Stranger.GetAsync(PageAssets.Url(asset.Name));
            Assert.Equal(asset.ContentType, answer.Content.Headers.ContentType!.ToString());
            Assert.Equal(asset.Content.ToArray(), await answer.Content.ReadAsByteArrayAsync());
        }
    }

    [GeneratedRegex("(?:href|src)=\"(/assets/[^\"]+)\"")]
    private static partial Regex Address();
}
