using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Ingest;
using Washwear.Api.Security;
using Washwear.Api.Tests.Registry;
using Washwear.Api.Tests.Security;

namespace Washwear.Api.Tests.Ingest;

/// <summary>A whole request can be sent again under its Idempotency-Key.</summary>
public sealed class KeyedRequestTests : IAsyncLifetime
{
    private const string Key = "8e03978e-40d5-43e8-bc93-6894a57f9324";
    private const string NdJson = "application/x-ndjson";
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task The_same_request_again_gets_the_same_answer_and_is_told_so()
    {
        string body = "[" + Sending.Wash("w1") + "," + Sending.Wash("w2", outcome: "nonsense") + "]";
        (HttpResponseMessage first, string firstText) = await SendAsync(body);
        (HttpResponseMessage second, string secondText) = await SendAsync(body);

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (first.StatusCode, second.StatusCode));
        Sending.AssertCounts(JsonDocument.Parse(firstText).RootElement, accepted: 1, refused: 1);
        Assert.Equal(firstText, secondText);
        Assert.Equal(first.Content.Headers.ContentType, second.Content.Headers.ContentType);
        Assert.False(first.Headers.Contains("Idempotency-Replayed"));
        Assert.Equal("true", second.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Equal(1, await CountAsync("record"));
        Assert.Equal(1, await ScalarAsync("SELECT times FROM refused"));
    }

    [Fact]
    public async Task People_who_choose_the_same_key_never_see_the_answers_of_each_other()
    {
        HttpClient anna = await SignedInAsync("anna");
        HttpClient ben = await SignedInAsync("ben");
        foreach (HttpClient person in (HttpClient[])[anna, ben, anna])
        {
            (HttpResponseMessage answer, string text) = await SendAsync(Sending.Wash("w-of-anna"), client: person);
            JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
            Assert.Equal("Idempotency-Key", problem.GetProperty("errors")[0].GetProperty("field").GetString());
            Assert.DoesNotContain("w-of-anna", text, StringComparison.Ordinal);
            Assert.False(answer.Headers.Contains("Idempotency-Replayed"));
        }

        Assert.Equal(0, await CountAsync("record"));
        Assert.Equal(0, await CountAsync("request_key"));
        Sending.AssertCounts(await Sending.SendAsync(anna, Sending.Wash("w-of-anna")), accepted: 1);
    }

    [Fact]
    public async Task The_answer_is_still_known_after_a_restart()
    {
        string file = Path.Combine(_host.Folder, "kept.db");
        string text;
        await using (ApiHost before = await ApiHost.StartAsync(settings: ("database", file)))
        {
            await Samples.PutAllAsync(before.Admin);
            (_, text) = await SendAsync(Sending.Wash("w1"), client: before.Admin);
        }

        await using ApiHost after = await ApiHost.StartAsync(settings: ("database", file));
        (HttpResponseMessage again, string replayed) = await SendAsync(Sending.Wash("w1"), client: after.Admin);
        Assert.True(again.Headers.Contains("Idempotency-Replayed"));
        Assert.Equal(text, replayed);
    }

    [Theory]
    [InlineData("w2", "application/json", "")]
    [InlineData("w1", NdJson, "")]
    [InlineData("w1", "application/json", "?rows=all")]
    public async Task Another_request_under_the_same_key_is_refused(string record, string mediaType, string query)
    {
        await SendAsync(Sending.Wash("w1"));
        (HttpResponseMessage other, _) = await SendAsync(Sending.Wash(record), mediaType: mediaType, query: query);

        await ProblemAssert.IsAsync(HttpStatusCode.UnprocessableEntity, other);
        Assert.Equal(1, await CountAsync("record"));
    }

    [Fact]
    public async Task Another_sender_may_use_the_same_key()
    {
        HttpClient other = await _host.ClientAsync(Abilities.Ingest, "gateway");
        await SendAsync(Sending.Wash("w1"));
        (HttpResponseMessage answer, string text) = await SendAsync(Sending.Wash("w2"), client: other);

        Assert.False(answer.Headers.Contains("Idempotency-Replayed"));
        Sending.AssertCounts(JsonDocument.Parse(text).RootElement, accepted: 1);
    }

    [Fact]
    public async Task While_the_first_is_running_the_same_key_is_told_to_wait()
    {
        Task<(HttpResponseMessage, string)> first;
        await using (HeldWriter held = await HeldWriter.HoldAsync(_host))
        {
            first = SendAsync(Sending.Wash("w1"));
            await held.WhenAsync(load => load.Requests == 1);
            (HttpResponseMessage second, _) = await SendAsync(Sending.Wash("w1"));
            await ProblemAssert.IsAsync(HttpStatusCode.Conflict, second);
            Assert.InRange(second.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        }

        (_, string text) = await first;
        (HttpResponseMessage again, string replayed) = await SendAsync(Sending.Wash("w1"));
        Assert.True(again.Headers.Contains("Idempotency-Replayed"));
        Assert.Equal(text, replayed);
    }

    [Fact]
    public async Task Of_many_at_once_one_is_taken_in_and_none_is_a_duplicate()
    {
        (HttpResponseMessage Answer, string Text)[] all =
            await Task.WhenAll(Enumerable.Range(0, 24).Select(_ => SendAsync(Sending.Wash("w1"))));

        Assert.Equal(1, all.Count(one => one.Answer.StatusCode == HttpStatusCode.OK && !one.Answer.Headers.Contains("Idempotency-Replayed")));
        Assert.All(all, one => Assert.True(
            one.Answer.StatusCode == HttpStatusCode.Conflict || one.Text.Contains("\"accepted\":1", StringComparison.Ordinal), one.Text));
    }

    [Fact]
    public async Task Of_a_request_that_broke_off_no_answer_is_kept_and_it_can_be_sent_again()
    {
        using var gone = new CancellationTokenSource();
        using var half = new SlowBody(Sending.Wash("w1") + "\n", Sending.Wash("w2") + "\n");
        using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records") { Content = half };
        request.Headers.Add("Idempotency-Key", Key);
        Task sending = _host.Admin.SendAsync(request, gone.Token);
        await WaitAsync(async () => await CountAsync("record") == 1);
        await gone.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => sending);
        await WaitAsync(() => Task.FromResult(_host.Services.GetRequiredService<IngestService>().Load.Requests == 0));
        Assert.Equal(0, await CountAsync("request_key"));

        (HttpResponseMessage again, string text) = await SendAsync(Sending.Wash("w1") + "\n" + Sending.Wash("w2") + "\n", mediaType: NdJson);
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Sending.AssertCounts(JsonDocument.Parse(text).RootElement, accepted: 1, duplicate: 1);
    }

    [Theory]
    [InlineData(10_000)]
    [InlineData(12_001)]
    public async Task A_request_of_several_portions_keeps_one_answer_for_all_of_them(int rows)
    {
        string body = string.Concat(Enumerable.Range(0, rows).Select(row =>
            string.Create(CultureInfo.InvariantCulture, $$"""{"type":"heartbeat","key":"h{{row}}","unit":"OVEN-1","at":"2026-02-20T22:00:00Z"}""") + "\n"));
        (_, string first) = await SendAsync(body, mediaType: NdJson);
        (HttpResponseMessage again, string second) = await SendAsync(body, mediaType: NdJson);

        Sending.AssertCounts(JsonDocument.Parse(first).RootElement, accepted: rows);
        Assert.Equal(first, second);
        Assert.True(again.Headers.Contains("Idempotency-Replayed"));
    }

    [Fact]
    public async Task Rows_and_answer_are_written_together_or_not_at_all()
    {
        await ExecuteAsync("CREATE TRIGGER broken BEFORE INSERT ON request_key BEGIN SELECT RAISE(ABORT, 'broken'); END");
        (HttpResponseMessage broken, _) = await SendAsync(Sending.Wash("w1"));
        Assert.Equal(HttpStatusCode.InternalServerError, broken.StatusCode);
        Assert.Equal((0, 0), (await CountAsync("record"), await CountAsync("request_key")));

        await ExecuteAsync("DROP TRIGGER broken");
        (_, string text) = await SendAsync(Sending.Wash("w1"));
        Sending.AssertCounts(JsonDocument.Parse(text).RootElement, accepted: 1);
    }

    [Fact]
    public async Task All_or_nothing_keeps_the_answer_that_nothing_was_taken_in()
    {
        string body = "[" + Sending.Wash("w1") + "," + Sending.Wash("w2", outcome: "nonsense") + "]";
        (_, string first) = await SendAsync(body, query: "?all_or_nothing=true");
        (HttpResponseMessage again, string second) = await SendAsync(body, query: "?all_or_nothing=true");

        Assert.Equal(1, JsonDocument.Parse(first).RootElement.GetProperty("held_back").GetInt32());
        Assert.Equal(first, second);
        Assert.True(again.Headers.Contains("Idempotency-Replayed"));
        Assert.Equal(0, await CountAsync("record"));
    }

    [Fact]
    public async Task A_request_that_could_not_be_read_leaves_its_key_free()
    {
        (HttpResponseMessage unreadable, _) = await SendAsync("no json");
        Assert.Equal(HttpStatusCode.BadRequest, unreadable.StatusCode);
        (_, string text) = await SendAsync(Sending.Wash("w1"));
        Sending.AssertCounts(JsonDocument.Parse(text).RootElement, accepted: 1);
    }

    [Fact]
    public async Task After_some_days_a_key_is_forgotten_and_the_records_keys_still_hold()
    {
        await SendAsync(Sending.Wash("w1"));
        _host.Clock.Advance(TimeSpan.FromDays(6.9));
        KeyedRequests requests = _host.Services.GetRequiredService<KeyedRequests>();
        await requests.ForgetAsync(CancellationToken.None);
        Assert.Equal(1, await CountAsync("request_key"));
        _host.Clock.Advance(TimeSpan.FromDays(0.2));

        (HttpResponseMessage again, string text) = await SendAsync(Sending.Wash("w1"));
        Assert.False(again.Headers.Contains("Idempotency-Replayed"));
        Sending.AssertCounts(JsonDocument.Parse(text).RootElement, duplicate: 1);
        _host.Clock.Advance(TimeSpan.FromDays(7.1));
        await SendAsync(Sending.Wash("w2"), key: "another");
        await requests.ForgetAsync(CancellationToken.None);
        Assert.Equal(1, await CountAsync("request_key"));
    }

    [Theory]
    [InlineData("")]
    [InlineData("\"")]
    [InlineData("\"open")]
    [InlineData("\"a\"b")]
    [InlineData("a\tb")]
    [InlineData("256")]
    public async Task A_key_that_is_none_is_refused(string key)
    {
        string sent = key == "256" ? new string('k', 256) : key;
        (HttpResponseMessage answer, _) = await SendAsync(Sending.Wash("w1"), key: sent);

        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
        Assert.Equal(0, await CountAsync("record"));
    }

    [Fact]
    public async Task A_key_in_quotes_is_the_same_as_without()
    {
        await SendAsync(Sending.Wash("w1"), key: "\"a \\\"b\\\" \\\\c\"");
        (HttpResponseMessage again, _) = await SendAsync(Sending.Wash("w1"), key: "a \"b\" \\c");
        Assert.True(again.Headers.Contains("Idempotency-Replayed"));
        (HttpResponseMessage longest, _) = await SendAsync(Sending.Wash("w2"), key: new string('k', 255));
        Assert.Equal(HttpStatusCode.OK, longest.StatusCode);
    }

    private async Task<(HttpResponseMessage Answer, string Text)> SendAsync(
        string body, string key = Key, string mediaType = "application/json", string query = "", HttpClient? client = null)
    {
        var content = new ByteArrayContent(Encoding.UTF8.GetBytes(body));
        content.Headers.TryAddWithoutValidation("Content-Type", mediaType);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records" + query) { Content = content };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", key);
        HttpResponseMessage answer = await (client ?? _host.Admin).SendAsync(request);
        return (answer, await answer.Content.ReadAsStringAsync());
    }

    private async Task<HttpClient> SignedInAsync(string login)
    {
        const string password = "long enough for anybody";
        People people = _host.Services.GetRequiredService<People>();
        Person person = await people.AddAsync(new NewPerson(login, login, Abilities.Read | Abilities.Ingest, Scope.Everything), CancellationToken.None);
        await people.SetPasswordAsync(person.Id, password, null, CancellationToken.None);
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), login, password);
        HttpClient client = _host.Client(null);
        client.DefaultRequestHeaders.Add("Cookie", Forms.SessionOf(entered));
        return client;
    }

    private Task<int> ExecuteAsync(string sql) => _host.Database.WriteAsync(
        session => session.Connection.ExecuteAsync(session.Command(sql, null, CancellationToken.None)), CancellationToken.None);

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
