using System.Globalization;
using System.Net;
using System.Text.Json;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operation;

/// <summary>Nobody starves others: floods are told to come again, and records are taken in meanwhile.</summary>
public sealed class RateLimitTests
{
    [Fact]
    public async Task A_key_that_asks_too_often_is_told_when_to_come_again_others_and_records_are_not_held_up()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("caller_requests_per_second", "5"));
        await Samples.PutAllAsync(host.Admin);
        HttpClient flooder = await host.ClientAsync(Abilities.Read | Abilities.Ingest, "flooder");
        HttpClient other = await host.ClientAsync(Abilities.Read, "other");
        var statuses = new List<HttpStatusCode>();
        for (int i = 0; i < 120; i++)
        {
            using HttpResponseMessage answer = await flooder.GetAsync("/v1/operators");
            statuses.Add(answer.StatusCode);
            if (answer.StatusCode == HttpStatusCode.TooManyRequests)
            {
                JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.TooManyRequests, answer);
                Assert.Contains("Retry-After", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
                Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 10);
            }

            if (i % 10 == 0)
            {
                Sending.AssertCounts(await Sending.SendAsync(flooder, Sending.Wash($"w{i}")), accepted: 1);
            }
        }

        Assert.Contains(HttpStatusCode.TooManyRequests, statuses);
        Assert.True(statuses.Count(status => status == HttpStatusCode.OK) >= 50, "ten seconds' worth goes at once");
        Assert.True((await other.GetAsync("/v1/operators")).IsSuccessStatusCode);
        await Until.TrueAsync(async () => (await flooder.GetAsync("/v1/operators")).IsSuccessStatusCode, "the flooder may ask again");
    }

    [Fact]
    public async Task An_address_without_a_key_has_its_own_limit_and_health_has_none()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("stranger_requests_per_second", "1"));
        bool refused = false;
        for (int i = 0; i < 30; i++)
        {
            refused |= (await host.Stranger.GetAsync("/sign-in")).StatusCode == HttpStatusCode.TooManyRequests;
            Assert.Equal(HttpStatusCode.OK, (await host.Stranger.GetAsync("/health/live")).StatusCode);
        }

        Assert.True(refused);
        using HttpResponseMessage guessed = await host.Client("no-such-key-no-such-key-no").GetAsync("/v1/operators");
        await ProblemAssert.IsAsync(HttpStatusCode.TooManyRequests, guessed);
        Assert.True((await host.Admin.GetAsync("/v1/operators")).IsSuccessStatusCode);
    }

    [Fact]
    public async Task Tries_to_sign_in_are_limited_by_themselves()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("sign_ins_per_minute", "3"));
        var statuses = new List<HttpStatusCode>();
        for (int i = 0; i < 6; i++)
        {
            using var form = new FormUrlEncodedContent([new("key", "wrong")]);
            using HttpResponseMessage answer = await host.Stranger.PostAsync("/sign-in", form);
            statuses.Add(answer.StatusCode);
        }

        Assert.DoesNotContain(HttpStatusCode.TooManyRequests, statuses[..3]);
        Assert.Equal(HttpStatusCode.TooManyRequests, statuses[^1]);
        Assert.True((await host.Stranger.GetAsync("/sign-in")).IsSuccessStatusCode, "the form itself is shown");
    }

    [Fact]
    public async Task Costly_questions_wait_their_turn_and_above_that_are_told_to_come_again_while_others_and_records_go_on()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("costly_at_once", "2"), ("costly_waiting", "2"));
        await Samples.PutAllAsync(host.Admin);
        HttpClient other = await host.ClientAsync(Abilities.Read, "other");
        var goOn = new TaskCompletionSource();
        Task<HttpResponseMessage> asked = host.Admin.PostAsync("/v1/plan/what-if", new HeldContent(goOn.Task));
        await Until.TrueAsync(async () => Exposition.Read(await other.GetStringAsync("/metrics")).Sum("washwear_costly_requests") >= 1
            || asked.IsCompleted, "the question is being asked");
        await Task.Delay(300);
        Task<HttpResponseMessage> waits = host.Admin.GetAsync("/v1/plan/decisions");
        await Task.Delay(300);
        Assert.False(waits.IsCompleted);
        using (HttpResponseMessage tooMany = await host.Admin.GetAsync("/v1/failures/trend"))
        {
            JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.TooManyRequests, tooMany);
            Assert.Contains("costly", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
            Assert.NotNull(tooMany.Headers.RetryAfter);
        }

        Assert.True((await host.Admin.GetAsync("/v1/operators")).IsSuccessStatusCode, "what is not costly is answered");
        Assert.True((await other.GetAsync("/v1/plan/decisions")).IsSuccessStatusCode, "somebody else has a place");
        Sending.AssertCounts(await Sending.SendAsync(host.Admin, Sending.Wash("w")), accepted: 1);
        goOn.SetResult();
        Assert.Equal(HttpStatusCode.OK, (await asked).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await waits).StatusCode);
        Assert.True((await host.Admin.GetAsync("/v1/plan/decisions")).IsSuccessStatusCode, "all places are free again");
    }

    [Fact]
    public async Task Records_of_one_key_are_not_limited_by_their_number()
    {
        const int posts = 2_500;
        await using ApiHost host = await ApiHost.StartAsync(null, ("caller_requests_per_second", "10"));
        await Samples.PutAllAsync(host.Admin);
        await Parallel.ForEachAsync(Enumerable.Range(0, posts), new ParallelOptions { MaxDegreeOfParallelism = 64 }, async (i, _) =>
        {
            using HttpResponseMessage answer = await Sending.PostAsync(
                host.Admin, System.Text.Encoding.UTF8.GetBytes(Sending.Wash(i.ToString(CultureInfo.InvariantCulture))), "application/json");
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        });
    }

    // An empty question whose end comes when a test says so.
    private sealed class HeldContent : HttpContent
    {
        private readonly Task _goOn;

        public HeldContent(Task goOn)
        {
            _goOn = goOn;
            Headers.TryAddWithoutValidation("Content-Type", "application/json");
        }

        protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context)
        {
            await stream.WriteAsync("{"u8.ToArray());
            await stream.FlushAsync();
            while (await Task.WhenAny(_goOn, Task.Delay(200)) != _goOn)
            {
                await stream.WriteAsync(new byte[400].Select(_ => (byte)' ').ToArray());
                await stream.FlushAsync();
            }

            await stream.WriteAsync("}"u8.ToArray());
        }

        protected override bool TryComputeLength(out long length)
        {
            length = 0;
            return false;
        }
    }
}
