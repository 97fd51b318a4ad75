using System.Net;
using System.Runtime.CompilerServices;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests.Operation;

/// <summary>A program that was stopped and disposed of leaves nothing behind in its process.</summary>
public sealed class DisposedHostTests
{
    private const int Hosts = 3;
    private const int Rounds = 200;

    private static readonly TimeSpan BetweenRounds = TimeSpan.FromMilliseconds(25);

    [Theory]
    [InlineData("yes")]
    [InlineData("no")]
    public async Task What_was_disposed_of_is_collected(string metrics)
    {
        var traces = new List<(string What, WeakReference Trace)>();
        for (int host = 0; host < Hosts; host++)
        {
            await UseAsync(host, metrics, traces);
        }

        // What has just ended may be on a stack or in a timer of the runtime for a moment.
        for (int round = 0; round < Rounds && traces.Exists(one => one.Trace.IsAlive); round++)
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
            await Task.Delay(BetweenRounds);
        }

        Assert.Equal([], traces.Where(one => one.Trace.IsAlive).Select(one => one.What));
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static async Task UseAsync(int number, string metrics, List<(string What, WeakReference Trace)> traces)
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("metrics", metrics));
        foreach (string path in (string[])["/", "/health/ready", "/v1/units", "/v1/today", "/part-life", "/openapi/v1.json"])
        {
            using HttpResponseMessage answer = await host.Admin.GetAsync(path);
            Assert.True(answer.StatusCode is HttpStatusCode.OK, $"{path}: {answer.StatusCode}");
        }

        traces.Add(($"host {number}: services", new WeakReference(host.Services)));
        traces.Add(($"host {number}: database", new WeakReference(host.Services.GetRequiredService<Database>())));
        traces.Add(($"host {number}: settings", new WeakReference(host.Services.GetRequiredService<Settings>())));
    }
}
