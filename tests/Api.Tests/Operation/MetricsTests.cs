using System.Net;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operation;

/// <summary>What a Prometheus server reads.</summary>
public sealed class MetricsTests
{
    [Fact]
    public async Task Metrics_need_a_key_that_may_read_unless_they_are_open()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage stranger = await host.Stranger.GetAsync("/metrics");
        await ProblemAssert.IsAsync(HttpStatusCode.Unauthorized, stranger);
        using HttpResponseMessage gateway = await (await host.ClientAsync(Abilities.Ingest, "gateway")).GetAsync("/metrics");
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, gateway);
        using HttpResponseMessage scraper = await (await host.ClientAsync(Abilities.Read, "scraper")).GetAsync("/metrics");
        Assert.Equal(HttpStatusCode.OK, scraper.StatusCode);
        Assert.Equal("text/plain", scraper.Content.Headers.ContentType!.MediaType);

        await using ApiHost open = await ApiHost.StartAsync(null, ("metrics_open", "yes"));
        using HttpResponseMessage anybody = await open.Stranger.GetAsync("/metrics");
        Assert.Equal(HttpStatusCode.OK, anybody.StatusCode);
    }

    [Fact]
    public async Task Rows_are_counted_by_type_and_outcome_and_refusals_by_rule()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, "[" + Sending.Wash("a") + "," + Sending.Wash("b", "2026-03-02T11:00:00Z") + "]");
        await Sending.SendAsync(host.Admin, "[" + Sending.Wash("a") + "," + Sending.Wash("c") + "]");
        await Sending.SendAsync(host.Admin, """[{"type":"heartbeat","key":"h","unit":"NO-SUCH","at":"2026-03-02T11:00:00Z"},7]""");

        Exposition read = await ReadAsync(host);
        Assert.Equal(3, read.Sum("washwear_ingest_rows_total", "type=\"wash\"", "outcome=\"accepted\""));
        Assert.Equal(1, read.Sum("washwear_ingest_rows_total", "type=\"wash\"", "outcome=\"duplicate\""));
        Assert.Equal(1, read.Sum("washwear_ingest_rows_total", "type=\"heartbeat\"", "outcome=\"refused\""));
        Assert.Equal(1, read.Sum("washwear_ingest_rows_total", "type=\"unreadable\"", "outcome=\"refused\""));
        Assert.Equal(2, read.Sum("washwear_ingest_refused_rows_total"));
        Assert.Equal(1, read.Sum("washwear_ingest_refused_rows_total", "rule=\"not_an_object\""));
        Assert.Equal(3, read.Sum("washwear_ingest_commit_duration_seconds_count"));
        Assert.Equal(6, read.Sum("washwear_ingest_commit_rows_sum"));
        Assert.Equal(3, read.Sum("washwear_ingest_portions_total"));
        Assert.Equal(3, read.Sum("washwear_ingest_commit_rows_bucket", "le=\"2\""));
        Assert.Equal(1, read.Sum("washwear_ingest_lag_seconds_bucket", "le=\"14400\""));

        // The newest of the first request happened an hour before its receipt, that of the second on 20 February, 21:00 UTC.
        double second = (ApiHost.StartsAt - new DateTimeOffset(2026, 2, 20, 21, 0, 0, TimeSpan.Zero)).TotalSeconds;
        Assert.Equal(2, read.Sum("washwear_ingest_lag_seconds_count"));
        Assert.Equal(3600 + second, read.Sum("washwear_ingest_lag_seconds_sum"), 3);
    }

    [Fact]
    public async Task What_stands_is_measured_as_it_stands()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, Sending.Wash("a", "2026-03-02T11:00:00Z"));
        host.Clock.Advance(TimeSpan.FromMinutes(30));
        await Task.Delay(150);

        Exposition read = await ReadAsync(host);
        Assert.Equal(5400, read.Sum("washwear_ingest_newest_record_age_seconds"), 3);
        Assert.Equal(1800, read.Sum("washwear_ingest_newest_receipt_age_seconds"), 3);
        Assert.Equal(new FileInfo(host.Database.File).Length, read.Sum("washwear_database_size_bytes", "file=\"database\""));
        Assert.Equal(0, read.Sum("washwear_ingest_queue_requests"));
        Assert.Equal(0, read.Sum("washwear_webhooks_waiting"));
        Assert.Equal(0, read.Sum("washwear_health", "check=\"database\""));
        foreach (string name in (string[])["washwear_disk_free_bytes", "washwear_ingest_queue_size_bytes", "washwear_alerts_alive", "washwear_scopes_kept", "washwear_projections_stale",
            "http_server_request_duration_seconds", "kestrel_active_connections", "dotnet_gc_heap_total_allocated_bytes_total"])
        {
            Assert.True(read.Types.ContainsKey(name) || read.Types.ContainsKey(name.Replace("_total", string.Empty, StringComparison.Ordinal)), name);
        }
    }

    [Fact]
    public async Task Labels_stay_few_whatever_is_asked_and_sent()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await ReadAsync(host);
        int before = (await ReadAsync(host)).Samples.Count;
        for (int i = 0; i < 40; i++)
        {
            using HttpResponseMessage page = await host.Admin.GetAsync($"/v1/units/none-{i}?q=secret-{i}");
            using HttpResponseMessage none = await host.Admin.GetAsync($"/none/{i}");
            using var odd = new HttpRequestMessage(new HttpMethod($"ODD{i}"), "/v1/units");
            using HttpResponseMessage method = await host.Admin.SendAsync(odd);
            await Sending.PostAsync(host.Admin, "{}"u8.ToArray(), "application/json", $"?source=s{i}");
        }

        Exposition read = await ReadAsync(host);
        Assert.DoesNotContain(read.Samples.Keys, series => series.Contains("none-", StringComparison.Ordinal) || series.Contains("secret", StringComparison.Ordinal)
            || series.Contains("ODD", StringComparison.Ordinal) || series.Contains("s39", StringComparison.Ordinal));

        // Four routes, each once whatever was asked: their histogram's buckets, and the rows' own.
        Assert.InRange(read.Samples.Count - before, 1, 150);
    }

    private static async Task<Exposition> ReadAsync(ApiHost host) => Exposition.Read(await host.Admin.GetStringAsync("/metrics"));
}
