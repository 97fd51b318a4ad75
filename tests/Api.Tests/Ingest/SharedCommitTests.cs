using System.Net;
using System.Text.Json;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Requests that come while the disk is busy go into the next transaction together, and each gets its own answer.</summary>
public sealed class SharedCommitTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task Many_small_requests_share_few_transactions_and_each_gets_its_own_answer()
    {
        const int posts = 200;
        long before = Load.Transactions;
        Task<JsonElement>[] answers;
        await using (HeldWriter held = await HeldWriter.HoldAsync(_host))
        {
            answers = [.. Enumerable.Range(0, posts).Select(number => Sending.SendAsync(_host.Admin, Sending.Wash($"w-{number}")))];
            await held.WhenAsync(load => load.Requests == posts && load.WaitingRows >= posts - 10);
            Assert.DoesNotContain(answers, answer => answer.IsCompleted);
        }

        Assert.All(await Task.WhenAll(answers), answer => Sending.AssertCounts(answer, accepted: 1));
        Assert.Equal(posts, await CountAsync("record"));
        Assert.Equal(posts, await CountAsync("wash_span"));
        Assert.InRange(Load.Transactions - before, 1, 12);
        Assert.True(await ScalarAsync("SELECT count(DISTINCT received_ms) FROM record") <= 12);
        Assert.Equal((0, 0L, 0), (Load.Requests, Load.HeldBytes, Load.WaitingRows));
    }

    [Fact]
    public async Task The_same_record_sent_by_two_at_once_is_taken_in_once()
    {
        Task<JsonElement>[] answers;
        await using (HeldWriter held = await HeldWriter.HoldAsync(_host))
        {
            answers = [.. Enumerable.Range(0, 8).Select(_ => Sending.SendAsync(_host.Admin, Sending.Wash("same")))];
            await held.WhenAsync(load => load.Requests == 8);
        }

        JsonElement[] all = await Task.WhenAll(answers);
        Assert.Equal(1, all.Sum(answer => answer.GetProperty("accepted").GetInt32()));
        Assert.Equal(7, all.Sum(answer => answer.GetProperty("duplicate").GetInt32()));
    }

    [Fact]
    public async Task A_request_that_cannot_be_written_harms_none_of_those_beside_it()
    {
        await _host.Database.WriteAsync(
            session => session.Connection.ExecuteAsync(session.Command(
                "CREATE TRIGGER broken BEFORE INSERT ON record WHEN NEW.key = 'broken' BEGIN SELECT RAISE(ABORT, 'broken'); END",
                null,
                CancellationToken.None)),
            CancellationToken.None);
        Task<HttpResponseMessage>[] answers;
        await using (HeldWriter held = await HeldWriter.HoldAsync(_host))
        {
            answers = [.. Enumerable.Range(0, 20).Select(number => PostAsync(
                "[" + Sending.Wash($"first-{number}") + "," + Sending.Wash(number == 7 ? "broken" : $"second-{number}") + "]"))];
            await held.WhenAsync(load => load.Requests == 20);
        }

        HttpResponseMessage[] all = await Task.WhenAll(answers);
        for (int number = 0; number < all.Length; number++)
        {
            Assert.Equal(number == 7 ? HttpStatusCode.InternalServerError : HttpStatusCode.OK, all[number].StatusCode);
        }

        Assert.Equal(38, await CountAsync("record"));
        Assert.Equal(38, await ScalarAsync("SELECT washes_run FROM unit_status"));
        Assert.Equal(0, await ScalarAsync("SELECT count(*) FROM record WHERE key = 'first-7'"));
    }

    [Fact]
    public async Task All_or_nothing_holds_for_its_own_request_alone()
    {
        Task<JsonElement>[] answers;
        await using (HeldWriter held = await HeldWriter.HoldAsync(_host))
        {
            answers =
            [
                Sending.SendAsync(_host.Admin, Sending.Wash("before")),
                Sending.SendAsync(_host.Admin, "[" + Sending.Wash("good") + "," + Sending.Wash("bad", outcome: "nonsense") + "]", query: "?all_or_nothing=true"),
                Sending.SendAsync(_host.Admin, "[" + Sending.Wash("whole-1") + "," + Sending.Wash("whole-2") + "]", query: "?all_or_nothing=true"),
                Sending.SendAsync(_host.Admin, "[" + Sending.Wash("beside") + "," + Sending.Wash("wrong", outcome: "nonsense") + "]"),
            ];
            await held.WhenAsync(load => load.Requests == 4);
        }

        JsonElement[] all = await Task.WhenAll(answers);
        Sending.AssertCounts(all[0], accepted: 1);
        Sending.AssertCounts(all[1], refused: 1);
        Assert.Equal(1, all[1].GetProperty("held_back").GetInt32());
        Sending.AssertCounts(all[2], accepted: 2);
        Sending.AssertCounts(all[3], accepted: 1, refused: 1);
        Assert.Equal(4, await CountAsync("record"));
        Assert.Equal(4, await ScalarAsync("SELECT washes_run FROM unit_status"));
        Assert.Equal(2, await CountAsync("refused"));
    }

    [Fact]
    public async Task A_sender_that_goes_away_harms_no_other_and_may_send_again()
    {
        using var gone = new CancellationTokenSource();
        Task<JsonElement>[] answers;
        Task<HttpResponseMessage> given;
        await using (HeldWriter held = await HeldWriter.HoldAsync(_host))
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records") { Content = Json(Sending.Wash("gone")) };
            given = _host.Admin.SendAsync(request, gone.Token);
            answers = [.. Enumerable.Range(0, 10).Select(number => Sending.SendAsync(_host.Admin, Sending.Wash($"w-{number}")))];
            await held.WhenAsync(load => load.Requests == 11);
            await gone.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => given);
        }

        Assert.All(await Task.WhenAll(answers), answer => Sending.AssertCounts(answer, accepted: 1));
        JsonElement again = await Sending.SendAsync(_host.Admin, Sending.Wash("gone"));
        Assert.Equal(1, again.GetProperty("accepted").GetInt32() + again.GetProperty("duplicate").GetInt32());
        Assert.Equal(11, await CountAsync("record"));
    }

    [Fact]
    public async Task Rows_that_were_read_do_not_wait_for_a_sender_that_is_slow()
    {
        using var rest = new SlowBody(Sending.Wash("first") + "\n", Sending.Wash("last") + "\n");
        Task<HttpResponseMessage> answer = _host.Admin.PostAsync("/v1/records", rest);
        await WaitAsync(async () => await CountAsync("record") == 1);
        Assert.False(answer.IsCompleted);
        rest.GoOn();

        JsonElement counts = JsonDocument.Parse(await (await answer).Content.ReadAsStringAsync()).RootElement;
        Sending.AssertCounts(counts, accepted: 2);
    }

    private IngestLoad Load => _host.Services.GetRequiredService<IngestService>().Load;

    private static StringContent Json(string body) => new(body, System.Text.Encoding.UTF8, "application/json");

    private async Task<HttpResponseMessage> PostAsync(string body) => await _host.Admin.PostAsync("/v1/records", Json(body));

    private Task<long> CountAsync(string table) => ScalarAsync($"SELECT count(*) FROM {table}");

    private async Task<long> ScalarAsync(string sql)
    {
        await using System.Data.Common.DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<long>(sql);
    }

    private static async Task WaitAsync(Func<Task<bool>> isReached)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        while (!await isReached())
        {
            Assert.False(patience.IsCancellationRequested, "never reached");
            await Task.Delay(20);
        }
    }
}
