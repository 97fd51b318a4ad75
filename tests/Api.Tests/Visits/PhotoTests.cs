using System.Net;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Api.Security;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Visits;

/// <summary>Photos of a visit: kept as they came, told from other files by what they begin with, and never a reason to lose the rest.</summary>
public sealed class PhotoTests : IAsyncLifetime
{
    private const int Mebibyte = 1024 * 1024;

    private static readonly byte[] Jpeg = [0xFF, 0xD8, 0xFF, 0xE0, .. "jpeg"u8, 1, 2, 3];
    private static readonly byte[] Png = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, .. "png"u8];
    private static readonly byte[] Webp = [.. "RIFF"u8, 9, 0, 0, 0, .. "WEBPVP8 "u8];

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task Photos_come_back_as_they_were_sent_and_only_to_those_who_may_read()
    {
        CloseOutSheet sheet = await SheetAsync();
        sheet.WithFile("pump.txt", Jpeg).WithFile("hose.jpg", Png).WithFile("../../x", Webp);
        Assert.Empty((await sheet.SendAsync()).GetProperty("left_out").EnumerateArray());

        JsonElement[] photos = [.. (await sheet.VisitAsync()).GetProperty("photos").EnumerateArray()];
        Assert.Equal(["image/jpeg", "image/png", "image/webp"], photos.Select(photo => photo.GetProperty("content_type").GetString()));
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Png)), photos[1].GetProperty("sha256").GetString());
        string address = $"/v1/visits/{sheet.Key}/photos/2";
        using HttpResponseMessage photo = await _host.Admin.GetAsync(address);
        Assert.Equal(Png, await photo.Content.ReadAsByteArrayAsync());
        Assert.Equal("image/png", photo.Content.Headers.ContentType!.MediaType);
        Assert.Equal("nosniff", Assert.Single(photo.Headers.GetValues("X-Content-Type-Options")));
        Assert.True(photo.Headers.CacheControl!.Private);

        using HttpResponseMessage stranger = await _host.Stranger.GetAsync(address);
        await ProblemAssert.IsAsync(HttpStatusCode.Unauthorized, stranger);
        using HttpResponseMessage none = await _host.Admin.GetAsync($"/v1/visits/{sheet.Key}/photos/4");
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, none);
        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(_host.Admin, "/visits/" + sheet.Key);
        Assert.Equal(3, (await CloseOutSheet.ParseAsync(receipt)).QuerySelectorAll("img").Length);
    }

    [Fact]
    public async Task What_is_no_photo_or_too_large_is_told_and_everything_else_is_saved()
    {
        CloseOutSheet sheet = await SheetAsync();
        sheet.WithFile("photo.jpg", Encoding.UTF8.GetBytes("<script>alert(1)</script>")).WithFile("large.jpg", [.. Jpeg, .. new byte[8 * Mebibyte]]).WithFile("good.jpg", Jpeg);
        using HttpResponseMessage answer = await sheet.SubmitAsync();
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);

        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(_host.Admin, answer.Headers.Location!.OriginalString);
        IHtmlDocument page = await CloseOutSheet.ParseAsync(receipt);
        string[] alerts = [.. page.QuerySelectorAll("[role=alert]").Select(alert => alert.TextContent)];
        Assert.Equal(2, alerts.Length);
        Assert.Contains("only JPEG, PNG and WebP", alerts[0], StringComparison.Ordinal);
        Assert.Contains("8\u00A0MiB at most", alerts[1], StringComparison.Ordinal);
        JsonElement visit = await sheet.VisitAsync();
        Assert.Equal(1, visit.GetProperty("photos").GetArrayLength());
        Assert.Equal("waiting_part", visit.GetProperty("outcome").GetString());
    }

    [Fact]
    public async Task All_photos_at_their_largest_go_through_together_and_a_seventh_is_told()
    {
        CloseOutSheet sheet = await SheetAsync();
        for (int i = 0; i < 6; i++)
        {
            sheet.WithFile("photo.jpg", [.. Jpeg, (byte)i, .. new byte[(8 * Mebibyte) - Jpeg.Length - 1]]);
        }

        Assert.Empty((await sheet.SendAsync()).GetProperty("left_out").EnumerateArray());
        Assert.Equal(6, (await sheet.VisitAsync()).GetProperty("photos").GetArrayLength());
        using HttpResponseMessage seventh = await AddAsync(_host.Admin, sheet.Key, Jpeg);
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, seventh);
    }

    [Fact]
    public async Task The_same_close_out_sent_again_keeps_each_photo_once()
    {
        CloseOutSheet sheet = (await SheetAsync()).With(("left", "2026-03-02T13:10")).WithFile("a.jpg", Jpeg).WithFile("b.jpg", Jpeg);
        await sheet.SendAsync();
        JsonElement again = await sheet.SendAsync();

        Assert.Equal("already_saved", again.GetProperty("outcome").GetString());
        Assert.Equal(1, (await sheet.VisitAsync()).GetProperty("photos").GetArrayLength());
    }

    [Fact]
    public async Task A_corrected_close_out_shows_the_photos_of_the_earlier_ones_each_once()
    {
        CloseOutSheet first = (await SheetAsync()).WithFile("a.jpg", Jpeg).WithFile("b.png", Png);
        await first.SendAsync();
        CloseOutSheet second = (await CloseOutSheet.OpenAsync(_host.Admin, "unit=OVEN-1&corrects=" + first.Key)).With(("note", "Left circuit.")).WithFile("b.png", Png);
        await second.SendAsync();
        CloseOutSheet third = (await CloseOutSheet.OpenAsync(_host.Admin, "unit=OVEN-1&corrects=" + second.Key)).With(("note", "Right circuit.")).WithFile("c.webp", Webp);
        await third.SendAsync();

        JsonElement visit = await third.VisitAsync();
        Assert.Equal("image/webp", Assert.Single(visit.GetProperty("photos").EnumerateArray()).GetProperty("content_type").GetString());
        Assert.Equal(
            [(second.Key, 1, "image/png"), (first.Key, 1, "image/jpeg")],
            visit.GetProperty("earlier_photos").EnumerateArray().Select(photo => (
                photo.GetProperty("visit").GetString()!, photo.GetProperty("number").GetInt32(), photo.GetProperty("content_type").GetString()!)));
        Assert.Equal(2, (await first.VisitAsync()).GetProperty("photos").GetArrayLength());
        Assert.Empty((await first.VisitAsync()).GetProperty("earlier_photos").EnumerateArray());

        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(_host.Admin, "/visits/" + third.Key);
        IHtmlDocument page = await CloseOutSheet.ParseAsync(receipt);
        Assert.Equal("3", page.QuerySelector("#photos .count")!.TextContent);
        string[] sources = [.. page.QuerySelectorAll<IHtmlImageElement>("ul.photos img").Select(image => image.GetAttribute("src")!)];
        Assert.Equal(3, sources.Length);
        foreach (string source in sources)
        {
            using HttpResponseMessage photo = await _host.Admin.GetAsync(source);
            Assert.Equal(HttpStatusCode.OK, photo.StatusCode);
        }

        using HttpResponseMessage unit = await CloseOutSheet.ReadAsync(_host.Admin, "/units/OVEN-1");
        Assert.Contains("3 photos", (await CloseOutSheet.ParseAsync(unit)).Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_program_adds_a_photo_to_its_own_visit_only()
    {
        CloseOutSheet sheet = await SheetAsync();
        await sheet.SendAsync();
        using HttpResponseMessage added = await AddAsync(_host.Admin, sheet.Key, Webp);
        Assert.Equal(HttpStatusCode.OK, added.StatusCode);
        Assert.Equal(1, (await added.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("photos").GetArrayLength());

        using HttpResponseMessage noPhoto = await AddAsync(_host.Admin, sheet.Key, "GIF89a"u8.ToArray());
        Assert.Equal("no_photo", (await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, noPhoto)).GetProperty("errors")[0].GetProperty("rule").GetString());
        using HttpResponseMessage empty = await AddAsync(_host.Admin, sheet.Key, []);
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, empty);
        using HttpResponseMessage large = await AddAsync(_host.Admin, sheet.Key, [.. Jpeg, .. new byte[8 * Mebibyte]]);
        await ProblemAssert.IsAsync(HttpStatusCode.RequestEntityTooLarge, large);
        using HttpResponseMessage noVisit = await AddAsync(_host.Admin, "no-such-visit", Jpeg);
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, noVisit);
        HttpClient other = await _host.ClientAsync(Abilities.Work, "somebody else");
        using HttpResponseMessage others = await AddAsync(other, sheet.Key, Jpeg);
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, others);
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage mayNot = await AddAsync(reader, sheet.Key, Jpeg);
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, mayNot);
    }

    private static Task<HttpResponseMessage> AddAsync(HttpClient client, string key, byte[] body) =>
        client.PostAsync($"/v1/visits/{key}/photos", new ByteArrayContent(body));

    private async Task<CloseOutSheet> SheetAsync() => (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_part"));
}
