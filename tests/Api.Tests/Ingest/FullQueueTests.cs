using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Ingest;

/// <summary>More is sent than can be written: who begins is told to come again, who is under way waits, and memory stays bounded.</summary>
public sealed class FullQueueTests
{
    private const long MiB = 1024 * 1024;

    [Fact]
    public async Task A_request_too_many_is_told_when_to_come_again_and_nothing_is_lost()
    {
        await using ApiHost host = await StartAsync(("ingest_queue_requests", "20"));
        Task<HttpResponseMessage>[] waiting;
        await using (HeldWriter held = await HeldWriter.HoldAsync(host))
        {
            waiting = [.. Enumerable.Range(0, 20).Select(number => PostAsync(host, Sending.Wash($"in-{number}")))];
            await held.WhenAsync(load => load.Requests == 20);
            for (int number = 0; number < 10; number++)
            {
                using HttpResponseMessage full = await PostAsync(host, Sending.Wash($"out-{number}"));
                await AssertFullAsync(full);
            }

            Assert.Equal(10, Load(host).RefusedRequests);
        }

        Assert.All(await Task.WhenAll(waiting), answer => Assert.Equal(HttpStatusCode.OK, answer.StatusCode));
        Assert.Equal(20, await CountAsync(host));
        for (int number = 0; number < 10; number++)
        {
            Sending.AssertCounts(await Sending.SendAsync(host.Admin, Sending.Wash($"out-{number}")), accepted: 1);
        }
    }

    [Fact]
    public async Task A_long_request_under_way_waits_for_room_holds_no_more_than_allowed_and_loses_nothing()
    {
        const int rows = 20_000;
        await using ApiHost host = await StartAsync(("ingest_queue_mib", "1"));
        Task<HttpResponseMessage> stream;
        await using (HeldWriter held = await HeldWriter.HoldAsync(host))
        {
            stream = StreamAsync(host, rows);
            // Room is left for those that begin.
            await held.WhenAsync(load => load.HeldBytes > MiB / 4 * 3 - 2000);
            await Task.Delay(300);
            Assert.InRange(Load(host).HeldBytes, MiB / 4 * 3 - 2000, MiB / 4 * 3);
            Task<JsonElement> small = Sending.SendAsync(host.Admin, Sending.Wash("small"));
            await held.WhenAsync(load => load.Requests == 2 && load.WaitingRows > 0);
            Assert.False(stream.IsCompleted || small.IsCompleted);
            await held.LetGoAsync();
            Sending.AssertCounts(await small, accepted: 1);
        }

        JsonElement counts = JsonDocument.Parse(await (await stream).Content.ReadAsStringAsync()).RootElement;
        Sending.AssertCounts(counts, accepted: rows);
        Assert.Equal(rows + 1, await CountAsync(host));
    }

    [Fact]
    public async Task Many_long_requests_at_once_hold_no_more_together_than_one_may()
    {
        const int rows = 2_500;
        const int senders = 12;
        await using ApiHost host = await StartAsync(("ingest_queue_mib", "2"));
        Task<HttpResponseMessage>[] streams = [.. Enumerable.Range(0, senders).Select(sender => StreamAsync(host, rows, $"s{sender}-"))];
        Task all = Task.WhenAll(streams);
        long most = 0;
        while (!all.IsCompleted)
        {
            most = Math.Max(most, Load(host).HeldBytes);
            await Task.WhenAny(all, Task.Delay(5));
        }

        // Each reads one row at a time beside what it holds.
        Assert.InRange(most, 1, 2 * MiB);
        int refused = 0;
        for (int sender = 0; sender < senders; sender++)
        {
            using HttpResponseMessage answer = await streams[sender];
            if (answer.StatusCode == HttpStatusCode.TooManyRequests)
            {
                refused++;
                using HttpResponseMessage again = await StreamAsync(host, rows, $"s{sender}-");
                Assert.Equal(HttpStatusCode.OK, again.StatusCode);
            }
        }

        Assert.Equal(senders * rows, await CountAsync(host));
        Assert.Equal(refused, Load(host).RefusedRequests);
        Assert.Equal(0, Load(host).HeldBytes);
    }

    [Fact]
    public async Task An_all_or_nothing_request_that_finds_no_room_for_all_its_rows_leaves_nothing_behind()
    {
        await using ApiHost host = await StartAsync(("ingest_queue_mib", "1"));
        Task<HttpResponseMessage> stream;
        await using (HeldWriter held = await HeldWriter.HoldAsync(host))
        {
            stream = StreamAsync(host, 5_000);
            await held.WhenAsync(load => load.HeldBytes > MiB / 4 * 3 - 2000);
            using HttpResponseMessage full = await host.Admin.PostAsync(
                "/v1/records?all_or_nothing=true", new StringContent(Rows(1_000, "whole-"), Encoding.UTF8, "application/x-ndjson"));
            await AssertFullAsync(full);
            Assert.Equal(1, Load(host).Requests);
        }

        Assert.Equal(HttpStatusCode.OK, (await stream).StatusCode);
        Assert.Equal(5_000, await CountAsync(host));
        using HttpResponseMessage again = await host.Admin.PostAsync(
            "/v1/records?all_or_nothing=true", new StringContent(Rows(4_000, "whole-"), Encoding.UTF8, "application/x-ndjson"));
        Sending.AssertCounts(JsonDocument.Parse(await again.Content.ReadAsStringAsync()).RootElement, accepted: 4_000);
    }

    [Fact]
    public async Task Records_that_come_otherwise_than_by_http_wait_for_their_turn()
    {
        await using ApiHost host = await StartAsync(("ingest_queue_requests", "1"));
        IngestService ingest = host.Services.GetRequiredService<IngestService>();
        Task<IngestAnswer>[] answers;
        await using (HeldWriter held = await HeldWriter.HoldAsync(host))
        {
            answers = [.. Enumerable.Range(0, 5).Select(number => ingest.TakeInAsync(
                [new HeartbeatRecord("gateway", $"beat-{number}", "OVEN-1", ApiHost.StartsAt, null)], CancellationToken.None))];
            await held.WhenAsync(load => load.Requests == 1);
            Assert.DoesNotContain(answers, answer => answer.IsCompleted);
        }

        Assert.All(await Task.WhenAll(answers), answer => Assert.Equal(1, answer.Accepted));
    }

    private static async Task<ApiHost> StartAsync(params (string Name, string Value)[] settings)
    {
        ApiHost host = await ApiHost.StartAsync(settings: settings);
        await Samples.PutAllAsync(host.Admin);
        return host;
    }

    private static IngestLoad Load(ApiHost host) => host.Services.GetRequiredService<IngestService>().Load;

    private static Task<HttpResponseMessage> PostAsync(ApiHost host, string body) =>
        host.Admin.PostAsync("/v1/records", new StringContent(body, Encoding.UTF8, "application/json"));

    private static Task<HttpResponseMessage> StreamAsync(ApiHost host, int rows, string keys = "row-")
    {
        var content = new StreamContent(new MemoryStream(Encoding.UTF8.GetBytes(Rows(rows, keys))));
        content.Headers.ContentType = new MediaTypeHeaderValue("application/x-ndjson");
        return host.Admin.PostAsync("/v1/records", content);
    }

    private static string Rows(int rows, string keys)
    {
        var text = new StringBuilder();
        for (int row = 0; row < rows; row++)
        {
            string at = ApiHost.StartsAt.AddDays(-30).AddMinutes(row).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
            text.Append(Sending.Wash(keys + row.ToString(CultureInfo.InvariantCulture), at)).Append('\n');
        }

        return text.ToString();
    }

    private static async Task AssertFullAsync(HttpResponseMessage answer)
    {
        Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        await ProblemAssert.IsAsync(HttpStatusCode.TooManyRequests, answer);
    }

    private static async Task<long> CountAsync(ApiHost host)
    {
        await using System.Data.Common.DbConnection connection = await host.Database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<long>("SELECT count(*) FROM record");
    }
}
