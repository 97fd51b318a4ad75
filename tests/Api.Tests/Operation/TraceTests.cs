using System.Collections.Concurrent;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operation;

/// <summary>What a collector gets by OTLP: the bytes that came over the wire, looked through.</summary>
public sealed class TraceTests
{
    private const string Secret = "never-to-be-traced";

    [Fact]
    public async Task Spans_go_on_from_the_callers_trace_and_hold_nothing_personal()
    {
        var received = new ConcurrentQueue<(string Path, byte[] Body)>();
        WebApplicationBuilder builder = WebApplication.CreateBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        await using WebApplication collector = builder.Build();
        collector.MapPost("/v1/{what}", async (string what, HttpRequest request) =>
        {
            using var body = new MemoryStream();
            await request.Body.CopyToAsync(body);
            received.Enqueue((what, body.ToArray()));
            return Results.Bytes([], "application/x-protobuf");
        });
        await collector.StartAsync();
        await using (ApiHost host = await ApiHost.StartAsync(null, ("otlp_endpoint", collector.Urls.First()), ("trace_per_mille", "0")))
        {
            await Samples.PutAllAsync(host.Admin);
            await host.Admin.GetAsync("/v1/sites");
            host.Admin.DefaultRequestHeaders.Add("traceparent", "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01");
            host.Admin.DefaultRequestHeaders.UserAgent.ParseAdd("somebodys-own-program/1.0");
            await Sending.SendAsync(host.Admin, Sending.Wash(Secret), query: $"?source={Secret}");
            await host.Admin.GetAsync($"/v1/units?q={Secret}");
            await host.Admin.GetAsync("/v1/cleaning/status");
        }

        string spans = Text(received, "traces");
        Assert.Contains("ingest commit", spans, StringComparison.Ordinal);
        Assert.Contains("derive cleaning", spans, StringComparison.Ordinal);
        Assert.Contains("v1/records", spans, StringComparison.Ordinal);
        Assert.Contains(Encoding.Latin1.GetString(Convert.FromHexString("4bf92f3577b34da6a3ce929d0e0e4736")), spans, StringComparison.Ordinal);
        Assert.DoesNotContain("v1/sites", spans, StringComparison.Ordinal);
        Assert.Contains("washwear.ingest.rows", Text(received, "metrics"), StringComparison.Ordinal);
        foreach (string personal in (string[])[Secret, "test-administrator-key", "somebodys-own-program", "url.query", "url.path", "user_agent.original", "network.peer"])
        {
            Assert.DoesNotContain(personal, spans + Text(received, "metrics"), StringComparison.Ordinal);
        }
    }

    private static string Text(IEnumerable<(string Path, byte[] Body)> received, string what) =>
        string.Concat(received.Where(one => one.Path == what).Select(one => Encoding.Latin1.GetString(one.Body)));
}
