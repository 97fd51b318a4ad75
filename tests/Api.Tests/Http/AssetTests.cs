using System.IO.Compression;
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

        // Icon, style, the texts of scripts and two scripts.
        Assert.Equal(5, addresses.Length);
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

    [Theory]
    [InlineData("br")]
    [InlineData("gzip")]
    public async Task A_file_travels_compressed_where_that_is_taken_and_is_the_same_when_it_has_arrived(string coding)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        Asset asset = PageAssets.Find("site.css")!;
        using var request = new HttpRequestMessage(HttpMethod.Get, PageAssets.Url(asset.Name));
        request.Headers.AcceptEncoding.ParseAdd(coding);
        using HttpResponseMessage answer = await host.Stranger.SendAsync(request);

        Assert.Equal([coding], answer.Content.Headers.ContentEncoding);
        Assert.Contains("Accept-Encoding", answer.Headers.Vary);
        Assert.True(answer.Content.Headers.ContentLength < asset.Content.Length / 2);
        await using Stream body = await answer.Content.ReadAsStreamAsync();
        await using Stream opened = coding == "br" ? new BrotliStream(body, CompressionMode.Decompress) : new GZipStream(body, CompressionMode.Decompress);
        using var whole = new MemoryStream();
        await opened.CopyToAsync(whole);
        Assert.Equal(asset.Content.ToArray(), whole.ToArray());
    }

    [Fact]
    public async Task What_is_asked_for_is_compressed_and_what_posts_are_answered_is_not()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using var asked = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        asked.Headers.AcceptEncoding.ParseAdd("gzip, br");
        using HttpResponseMessage page = await host.Stranger.SendAsync(asked);
        Assert.Equal(["br"], page.Content.Headers.ContentEncoding);
        Assert.Contains("Accept-Encoding", page.Headers.Vary);

        using var posted = new HttpRequestMessage(HttpMethod.Post, "/v1/records") { Content = new StringContent("[]", null, "application/json") };
        posted.Headers.AcceptEncoding.ParseAdd("gzip, br");
        using HttpResponseMessage answer = await host.Admin.SendAsync(posted);
        Assert.Empty(answer.Content.Headers.ContentEncoding);
    }

    [GeneratedRegex("(?:href|src)=\"(/assets/[^\"]+)\"")]
    private static partial Regex Address();
}
