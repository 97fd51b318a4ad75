using System.Net;
using System.Text;
using Microsoft.Data.Sqlite;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Http;

/// <summary>Whatever goes wrong has one shape: for programs problem details, for people a page.</summary>
public sealed class ProblemShapeTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await ApiHost.StartAsync(null, ("request_limit_mib", "1"), ("busy_timeout_seconds", "1"));

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Theory]
    [InlineData("GET", "/no/such/page", null, HttpStatusCode.NotFound)]
    [InlineData("GET", "/v1/no-such", null, HttpStatusCode.NotFound)]
    [InlineData("GET", "/assets/no.css", null, HttpStatusCode.NotFound)]
    [InlineData("GET", "/reference/no.css", null, HttpStatusCode.NotFound)]
    [InlineData("DELETE", "/v1/units/x", null, HttpStatusCode.MethodNotAllowed)]
    [InlineData("POST", "/health/live", null, HttpStatusCode.MethodNotAllowed)]
    [InlineData("PUT", "/v1/operators/x", null, HttpStatusCode.UnsupportedMediaType)]
    [InlineData("PUT", "/v1/operators/x", "text/plain", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("PUT", "/v1/operators/x", "nonsense", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("POST", "/v1/records", "application/xml", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("PUT", "/v1/operators/x", "application/json", HttpStatusCode.BadRequest)]
    public async Task A_program_gets_problem_details(string method, string path, string? mediaType, HttpStatusCode status)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (mediaType is not null)
        {
            request.Content = new ByteArrayContent("x"u8.ToArray());
            request.Content.Headers.TryAddWithoutValidation("Content-Type", mediaType);
        }

        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        await ProblemAssert.IsAsync(status, answer);
        Assert.Equal(status == HttpStatusCode.MethodNotAllowed, answer.Content.Headers.Allow.Count > 0);
        Assert.StartsWith("default-src 'none'", Assert.Single(answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("application/xml")]
    [InlineData("text/html")]
    [InlineData("application/json;q=0, text/html")]
    public async Task What_cannot_be_given_in_any_form_asked_for_is_406(string accept)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/v1/units");
        request.Headers.TryAddWithoutValidation("Accept", accept);
        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        await ProblemAssert.IsAsync(HttpStatusCode.NotAcceptable, answer);
    }

    [Theory]
    [InlineData("/v1/operators/x", "PUT")]
    [InlineData("/v1/registry", "PUT")]
    [InlineData("/v1/records", "POST")]
    public async Task A_body_beyond_the_limit_is_413_with_and_without_its_length(string path, string method)
    {
        string body = "[\"" + new string('x', 1_100_000) + "\"]";
        foreach (bool chunked in new[] { false, true })
        {
            using var request = new HttpRequestMessage(new HttpMethod(method), path) { Content = new StringContent(body, Encoding.UTF8, "application/json") };
            request.Headers.TransferEncodingChunked = chunked;
            using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
            await ProblemAssert.IsAsync(HttpStatusCode.RequestEntityTooLarge, answer);
        }
    }

    [Fact]
    public async Task A_person_gets_a_page_and_a_picture_or_a_program_does_not()
    {
        (string Accept, string Type)[] cases =
        [
            ("text/html,application/xhtml+xml,*/*;q=0.8", "text/html"), ("image/svg+xml,*/*;q=0.8", "application/problem+json"), ("*/*", "application/problem+json"),
        ];
        foreach ((string accept, string type) in cases)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "/no/such/page");
            request.Headers.Add("Accept", accept);
            using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Equal(type, answer.Content.Headers.ContentType!.MediaType);
        }
    }

    [Fact]
    public async Task A_failure_of_ours_shows_a_trace_and_nothing_of_its_cause()
    {
        await SpoilAsync("DROP TABLE record");
        using HttpResponseMessage answer = await _host.Admin.GetAsync("/v1/records");
        await ProblemAssert.IsAsync(HttpStatusCode.InternalServerError, answer);
        Assert.DoesNotContain("no such table", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        using var request = new HttpRequestMessage(HttpMethod.Get, "/units/x");
        request.Headers.Add("Accept", "text/html");
        await SpoilAsync("DROP TABLE registry_version");
        using HttpResponseMessage page = await _host.Admin.SendAsync(request);
        string html = await page.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.InternalServerError, page.StatusCode);
        Assert.Contains("Quote this", html, StringComparison.Ordinal);
        Assert.DoesNotContain("registry_version", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_that_another_process_keeps_busy_is_503_and_nothing_is_stored()
    {
        await using (var other = new SqliteConnection($"Data Source={_host.Database.File};Pooling=False"))
        {
            await other.OpenAsync();
            await using SqliteTransaction held = other.BeginTransaction(deferred: false);
            using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, "/v1/operators/harbour", Samples.Operator);
            await ProblemAssert.IsAsync(HttpStatusCode.ServiceUnavailable, answer);
            Assert.NotNull(answer.Headers.RetryAfter);
        }

        using HttpResponseMessage again = await Samples.PutAsync(_host.Admin, "/v1/operators/harbour", Samples.Operator);
        Assert.Equal(HttpStatusCode.Created, again.StatusCode);
    }

    [Fact]
    public async Task A_database_that_lacks_a_migration_is_not_ready_but_alive()
    {
        await SpoilAsync("DELETE FROM SchemaVersions");
        await Until.TrueAsync(
            async () => !(await _host.Stranger.GetAsync("/health/ready")).IsSuccessStatusCode, "the missing migration is seen");
        using HttpResponseMessage ready = await _host.Stranger.GetAsync("/health/ready");
        await ProblemAssert.IsAsync(HttpStatusCode.ServiceUnavailable, ready);
        using HttpResponseMessage live = await _host.Stranger.GetAsync("/health/live");
        Assert.Equal(HttpStatusCode.OK, live.StatusCode);
    }

    private async Task SpoilAsync(string sql)
    {
        await using var connection = new SqliteConnection($"Data Source={_host.Database.File};Foreign Keys=False;Pooling=False");
        await connection.OpenAsync();
        await using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync();
    }
}
