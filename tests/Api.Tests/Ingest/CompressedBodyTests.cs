using System.IO.Compression;
using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Washwear.Api.Tests.Registry;
using static Washwear.Api.Tests.Ingest.Sending;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Tests that measure memory run alone.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class MeasuredAlone
{
    public const string Name = "measured alone";
}

/// <summary>Bodies with a Content-Encoding: expanded as they arrive, and honest about where they break off.</summary>
[Collection(MeasuredAlone.Name)]
public sealed class CompressedBodyTests : IAsyncLifetime
{
    private const string NdJson = "application/x-ndjson";
    private const int Rows = 3000;
    private const long MiB = 1024 * 1024;

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("expanded_limit_mib", "4"));
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Theory]
    [InlineData("gzip")]
    [InlineData("x-gzip")]
    [InlineData("GZIP")]
    [InlineData("br")]
    [InlineData("identity")]
    [InlineData("identity, gzip")]
    [InlineData("")]
    public async Task Each_coding_that_is_offered_is_read(string coding) =>
        AssertCounts(await AnswerAsync(Compress(coding.Split(", ")[^1], Lines()), coding), accepted: Rows);

    [Theory]
    [InlineData("deflate")]
    [InlineData("zstd")]
    [InlineData("gzip, br")]
    [InlineData("gzip, gzip")]
    [InlineData("utf-8")]
    public async Task Another_coding_and_codings_inside_each_other_are_refused_with_what_is_read(string coding)
    {
        using HttpResponseMessage answer = await PostAsync([1, 2, 3], coding);
        await ProblemAssert.IsAsync(HttpStatusCode.UnsupportedMediaType, answer);
        Assert.Equal("gzip, br", string.Join(", ", answer.Headers.GetValues("Accept-Encoding")));
    }

    [Fact]
    public async Task Two_gzip_members_are_one_body() => AssertCounts(
        await AnswerAsync([.. Compress("gzip", Lines(0, 10)), .. Compress("gzip", Lines(10, 10))], "gzip"), accepted: 20);

    [Theory]
    [InlineData("gzip", 1)]
    [InlineData("gzip", 8)]
    [InlineData("gzip", 2000)]
    [InlineData("br", 1)]
    [InlineData("br", 2000)]
    public async Task A_body_that_is_cut_is_taken_in_up_to_there_and_the_rest_is_told(string coding, int cut)
    {
        byte[] whole = Compress(coding, Lines());
        JsonElement answer = await AnswerAsync(whole[..^cut], coding);
        int accepted = answer.GetProperty("accepted").GetInt32();
        Assert.InRange(accepted, 1, Rows);
        Assert.Equal(accepted + 1, answer.GetProperty("unread_from_row").GetInt32());
        Assert.Contains("breaks off", answer.GetProperty("rows")[0].GetProperty("problem").GetProperty("detail").GetString(), StringComparison.Ordinal);
        JsonElement again = await AnswerAsync(whole, coding);
        AssertCounts(again, accepted: Rows - accepted, duplicate: accepted);
    }

    [Theory]
    [InlineData("gzip")]
    [InlineData("br")]
    public async Task A_body_that_is_damaged_is_never_taken_for_whole(string coding)
    {
        byte[] damaged = Compress(coding, Lines());
        for (int at = damaged.Length / 2; at < (damaged.Length / 2) + 40; at++)
        {
            damaged[at] = 0;
        }

        JsonElement answer = await AnswerAsync(damaged, coding);
        int rows = ((string[])["accepted", "duplicate", "refused"]).Sum(outcome => answer.GetProperty(outcome).GetInt32());
        Assert.Equal(rows, answer.GetProperty("unread_from_row").GetInt32());
        Assert.InRange(answer.GetProperty("accepted").GetInt32(), 1, Rows - 1);
    }

    [Theory]
    [InlineData("gzip")]
    [InlineData("br")]
    public async Task What_is_no_compressed_data_is_a_bad_request(string coding)
    {
        using HttpResponseMessage plain = await PostAsync(Lines(), coding);
        await ProblemAssert.ListsAsync(plain, "body coding");
        using HttpResponseMessage nothing = await PostAsync([], coding);
        await ProblemAssert.ListsAsync(nothing, "body empty");
        using HttpResponseMessage allOrNothing = await PostAsync(Compress(coding, Lines())[..^100], coding, "?all_or_nothing=true");
        await ProblemAssert.ListsAsync(allOrNothing, "body coding");
    }

    [Theory]
    [InlineData("gzip", 10)]
    [InlineData("gzip", 20_000)]
    [InlineData("br", 10)]
    [InlineData("br", 20_000)]
    public async Task Rows_behind_the_compressed_data_are_told_of_and_not_dropped_without_a_word(string coding, int bytes)
    {
        byte[] followed = [.. Compress(coding, Lines(0, 10)), .. Lines()[..bytes]];
        JsonElement answer = await AnswerAsync(followed, coding);
        AssertCounts(answer, accepted: 10, refused: 1);
        Assert.Equal(11, answer.GetProperty("unread_from_row").GetInt32());
    }

    [Theory]
    [InlineData("gzip")]
    [InlineData("br")]
    public async Task A_body_that_expands_beyond_the_limit_stops_there_and_uses_no_memory(string coding)
    {
        byte[] bomb = Bomb(coding, 2048 * MiB);
        Assert.InRange(bomb.Length, 1, 8 * MiB);
        long before = GC.GetTotalAllocatedBytes();
        JsonElement answer = await AnswerAsync(bomb, coding);
        long allocated = GC.GetTotalAllocatedBytes() - before;
        AssertCounts(answer, accepted: 10, refused: 1);
        Assert.Contains("4 MiB", answer.GetProperty("rows")[0].GetProperty("problem").GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.InRange(allocated, 0, bomb.Length + (16 * MiB));

        using HttpResponseMessage nothing = await PostAsync(Compress(coding, new byte[5 * MiB].Select(_ => (byte)' ').ToArray()), coding, string.Empty, "application/json");
        await ProblemAssert.ListsAsync(nothing, "body expanded_too_large");
    }

    [Fact]
    public async Task The_limit_for_what_is_sent_holds_for_the_compressed_body()
    {
        var random = new byte[33 * MiB];
        new Random(1).NextBytes(random);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records") { Content = new ByteArrayContent(random) };
        request.Content.Headers.TryAddWithoutValidation("Content-Type", NdJson);
        request.Content.Headers.TryAddWithoutValidation("Content-Encoding", "gzip");
        request.Headers.ExpectContinue = true;
        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        await ProblemAssert.IsAsync(HttpStatusCode.RequestEntityTooLarge, answer);
    }

    [Fact]
    public async Task Refused_rows_of_a_compressed_body_are_kept_expanded()
    {
        byte[] body = Compress("gzip", Encoding.UTF8.GetBytes("{\"type\":\"bath\"}\n"));
        AssertCounts(await AnswerAsync(body, "gzip"), refused: 1);
        JsonElement kept = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Equal("{\"type\":\"bath\"}", kept.GetProperty("items")[0].GetProperty("body").GetString());
    }

    private static byte[] Lines(int first = 0, int count = Rows)
    {
        DateTimeOffset start = new(2025, 1, 1, 0, 0, 0, TimeSpan.Zero);
        return Encoding.UTF8.GetBytes(string.Concat(Enumerable.Range(first, count).Select(i =>
            $$"""{"type":"heartbeat","key":"h{{(i * 7919) % 100003}}","unit":"OVEN-1","at":"{{start.AddMinutes(i):yyyy-MM-dd'T'HH:mm:ss'Z'}}"}""" + "\n")));
    }

    private static byte[] Compress(string coding, byte[] plain)
    {
        var packed = new MemoryStream();
        using (Stream? packer = Packer(coding, packed))
        {
            (packer ?? packed).Write(plain);
        }

        return packed.ToArray();
    }

    private static Stream? Packer(string coding, Stream packed) => coding.ToUpperInvariant() switch
    {
        "GZIP" or "X-GZIP" => new GZipStream(packed, CompressionLevel.Optimal, leaveOpen: true),
        "BR" => new BrotliStream(packed, CompressionLevel.Fastest, leaveOpen: true),
        _ => null,
    };

    private static byte[] Bomb(string coding, long length)
    {
        var packed = new MemoryStream();
        using (Stream packer = Packer(coding, packed)!)
        {
            packer.Write(Lines(0, 10));
            var spaces = new byte[MiB];
            spaces.AsSpan().Fill((byte)'x');
            for (long written = 0; written < length; written += spaces.Length)
            {
                packer.Write(spaces);
            }
        }

        return packed.ToArray();
    }

    private Task<HttpResponseMessage> PostAsync(byte[] body, string coding, string query = "", string mediaType = NdJson)
    {
        var content = new ByteArrayContent(body);
        content.Headers.TryAddWithoutValidation("Content-Type", mediaType);
        if (coding.Length > 0)
        {
            content.Headers.TryAddWithoutValidation("Content-Encoding", coding);
        }

        return _host.Admin.PostAsync("/v1/records" + query, content);
    }

    private async Task<JsonElement> AnswerAsync(byte[] body, string coding)
    {
        using HttpResponseMessage answer = await PostAsync(body, coding);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, text);
        return JsonDocument.Parse(text).RootElement;
    }
}
