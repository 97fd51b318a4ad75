using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Audit;
using Washwear.Api.Security;
using Washwear.Api.Tests.Commands;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Audit;

/// <summary>What the audit notes, who sees it, and that nothing in it changes.</summary>
public sealed class AuditTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        using HttpResponseMessage put = await _host.Admin.PutAsJsonAsync("/v1/operators/OP", new { name = "Canteens" });
        Assert.Equal(HttpStatusCode.Created, put.StatusCode);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_change_is_noted_with_who_when_what_from_where_and_old_and_new()
    {
        _host.Clock.Advance(TimeSpan.FromHours(1));
        using HttpResponseMessage put = await _host.Admin.PutAsJsonAsync("/v1/operators/OP", new { name = "Kitchens" });

        JsonElement entry = (await EntriesAsync("action=operator.put"))[0];

        Assert.Equal("key", entry.GetProperty("caller_kind").GetString());
        Assert.Equal("admin", entry.GetProperty("caller").GetString());
        Assert.Equal(ApiHost.StartsAt.AddHours(1), entry.GetProperty("at").GetDateTimeOffset());
        Assert.Equal("PUT", entry.GetProperty("method").GetString());
        Assert.Equal("/v1/operators/{operator}", entry.GetProperty("route").GetString());
        Assert.Equal("operator", entry.GetProperty("about_kind").GetString());
        Assert.Equal("OP", entry.GetProperty("about").GetString());
        Assert.Equal(200, entry.GetProperty("status").GetInt32());
        Assert.Equal("127.0.0.1", entry.GetProperty("address").GetString());
        Assert.NotEmpty(entry.GetProperty("trace_id").GetString()!);
        Assert.Equal("0 new, 1 changed, 0 as before; operator OP: name: \"Canteens\" → \"Kitchens\"", entry.GetProperty("detail").GetString());
    }

    [Fact]
    public async Task What_was_refused_is_noted_as_refused()
    {
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage forbidden = await reader.PutAsJsonAsync("/v1/operators/OP", new { name = "Mine" });
        using HttpResponseMessage wrong = await _host.Admin.PutAsJsonAsync("/v1/operators/OP", new { nonsense = 1 });
        Assert.Equal(HttpStatusCode.Forbidden, forbidden.StatusCode);
        Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);

        JsonElement[] entries = await EntriesAsync("about=op");

        Assert.Equal([400, 403, 201], entries.Select(entry => entry.GetProperty("status").GetInt32()));
        Assert.Equal("reader", entries[1].GetProperty("caller").GetString());
    }

    [Fact]
    public async Task Who_comes_by_a_link_that_signs_in_once_is_named()
    {
        string link = (await _host.Services.GetRequiredService<Keys>().AddSignInLinkAsync(Keys.FirstName, CancellationToken.None))!;
        using HttpResponseMessage entered = await _host.Stranger.GetAsync(link);
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        Assert.Equal(Keys.FirstName, (await EntriesAsync("action=session.begin"))[0].GetProperty("caller").GetString());
    }

    [Fact]
    public async Task A_stranger_without_a_key_writes_nothing_but_failed_sign_ins_are_noted()
    {
        using HttpResponseMessage unknown = await _host.Stranger.PutAsJsonAsync("/v1/operators/OP", new { name = "Mine" });
        Assert.Equal(HttpStatusCode.Unauthorized, unknown.StatusCode);
        using HttpResponseMessage link = await _host.Stranger.GetAsync("/sign-in/link?token=nonsense");
        Assert.Equal(HttpStatusCode.Unauthorized, link.StatusCode);

        JsonElement[] entries = [.. (await EntriesAsync("")).Where(entry => entry.GetProperty("caller_kind").GetString() == "stranger")];

        JsonElement failed = Assert.Single(entries);
        Assert.Equal("session.begin", failed.GetProperty("action").GetString());
        Assert.Equal(401, failed.GetProperty("status").GetInt32());
        Assert.DoesNotContain("nonsense", failed.GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Records_write_no_entries()
    {
        using HttpResponseMessage sent = await _host.Admin.PostAsJsonAsync("/v1/records", new { type = "heartbeat", key = "h-1", unit = "U", at = "2026-03-02T10:00:00Z" });

        Assert.DoesNotContain(await EntriesAsync(""), entry => entry.GetProperty("route").GetString() == "/v1/records");
    }

    [Fact]
    public async Task Entries_are_narrowed_paged_and_given_as_csv()
    {
        using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/sites/S", Samples.Site.Replace("harbour", "OP", StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.Created, put.StatusCode);

        Assert.Equal("site.put", Assert.Single(await EntriesAsync("action=site")).GetProperty("action").GetString());
        Assert.Equal(2, (await EntriesAsync("caller=admin&from=2026-03-02T12:00:00Z&to=2026-03-02T12:00:01Z")).Length);
        Assert.Empty(await EntriesAsync("to=2026-03-02T12:00:00Z"));
        Assert.Empty(await EntriesAsync("caller=nobody"));

        using JsonDocument first = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/audit?limit=1"));
        JsonElement second = (await EntriesAsync("limit=1&after=" + first.RootElement.GetProperty("next").GetString()))[0];
        Assert.Equal("operator.put", second.GetProperty("action").GetString());

        string csv = await _host.Admin.GetStringAsync("/v1/audit?format=csv");
        Assert.StartsWith("id,at,caller_kind,", csv, StringComparison.Ordinal);
        Assert.Contains(",site.put,PUT,/v1/sites/{site},site,S,,201,127.0.0.1,", csv, StringComparison.Ordinal);

        using HttpResponseMessage wrong = await _host.Admin.GetAsync("/v1/audit?from=yesterday&after=x");
        await ProblemAssert.ListsAsync(wrong, "from instant");
    }

    [Fact]
    public async Task The_database_itself_refuses_to_change_or_delete_an_entry_above_the_mark()
    {
        await using var connection = new SqliteConnection($"Data Source={_host.Database.File};Pooling=False;Foreign Keys=True");
        await connection.OpenAsync();

        foreach (string forbidden in new[]
        {
            "UPDATE audit_entry SET action = 'x'", "DELETE FROM audit_entry", "UPDATE audit_outcome SET status = 500", "DELETE FROM audit_outcome",
            "UPDATE audit_name SET name = 'somebody else'", "DELETE FROM audit_name",
        })
        {
            await Assert.ThrowsAsync<SqliteException>(() => connection.ExecuteAsync(forbidden));
        }

        var mark = new { at = ApiHost.StartsAt.ToUnixTimeMilliseconds() };
        await connection.ExecuteAsync("INSERT INTO audit_mark (id, before_ms) SELECT 1, @at WHERE NOT EXISTS (SELECT 1 FROM audit_mark)", mark);
        await connection.ExecuteAsync("UPDATE audit_mark SET before_ms = @at WHERE before_ms < @at", mark);
        await Assert.ThrowsAsync<SqliteException>(() => connection.ExecuteAsync("DELETE FROM audit_outcome"));
        await connection.ExecuteAsync("UPDATE audit_mark SET before_ms = before_ms + 1");
        await Assert.ThrowsAsync<SqliteException>(() => connection.ExecuteAsync("UPDATE audit_mark SET before_ms = 0"));
        await Assert.ThrowsAsync<SqliteException>(() => connection.ExecuteAsync("DELETE FROM audit_mark"));
        await connection.ExecuteAsync("DELETE FROM audit_outcome; DELETE FROM audit_entry");
    }

    [Fact]
    public async Task An_entry_stands_in_the_transaction_of_its_change_so_that_neither_is_there_without_the_other()
    {
        await using var connection = new SqliteConnection($"Data Source={_host.Database.File};Pooling=False");
        await connection.OpenAsync();
        await connection.ExecuteAsync("CREATE TRIGGER no_room BEFORE INSERT ON audit_entry BEGIN SELECT RAISE(ABORT, 'no room'); END");

        using HttpResponseMessage put = await _host.Admin.PutAsJsonAsync("/v1/operators/OTHER", new { name = "Other" });

        Assert.True((int)put.StatusCode >= 500);
        Assert.Equal(0, await connection.ExecuteScalarAsync<long>("SELECT count(*) FROM operator WHERE code = 'OTHER'"));
    }

    [Fact]
    public async Task A_change_whose_answer_could_not_be_noted_is_there_with_an_outcome_that_is_not_known()
    {
        await using var connection = new SqliteConnection($"Data Source={_host.Database.File};Pooling=False");
        await connection.OpenAsync();
        await connection.ExecuteAsync("CREATE TRIGGER no_room BEFORE INSERT ON audit_outcome BEGIN SELECT RAISE(ABORT, 'no room'); END");

        using HttpResponseMessage put = await _host.Admin.PutAsJsonAsync("/v1/operators/OTHER", new { name = "Other" });

        Assert.Equal(HttpStatusCode.Created, put.StatusCode);
        Assert.Equal(JsonValueKind.Null, Assert.Single(await EntriesAsync("about=OTHER")).GetProperty("status").ValueKind);
    }

    [Fact]
    public async Task Entries_older_than_they_are_kept_for_go_and_the_audit_says_so()
    {
        DateTimeOffset later = ApiHost.StartsAt.AddDays(10);
        _host.Clock.Now = later;
        using HttpResponseMessage put = await _host.Admin.PutAsJsonAsync("/v1/operators/NEW", new { name = "New" });

        int forgotten = await _host.Services.GetRequiredService<AuditLog>().ForgetAsync(later.AddDays(-1), CancellationToken.None);

        Assert.Equal(1, forgotten);
        JsonElement[] left = await EntriesAsync("");
        Assert.Equal(["audit.forget", "operator.put"], left.Select(entry => entry.GetProperty("action").GetString()));
        Assert.Equal("1 entries older than 2026-03-11T12:00:00Z", left[0].GetProperty("detail").GetString());
        Assert.Equal("NEW", left[1].GetProperty("about").GetString());
    }

    [Fact]
    public async Task The_page_shows_entries_to_administrators_alone()
    {
        string page = await _host.Admin.GetStringAsync("/audit?action=operator&from=2026-03-02");
        Assert.Contains("1 entry since Mon 2 Mar 2026, 12:00\u00A0UTC: all done.", page, StringComparison.Ordinal);
        Assert.Contains(">OP</bdi>", page, StringComparison.Ordinal);

        HttpClient manager = await _host.ClientAsync(Abilities.Read | Abilities.Manage, "manager");
        foreach (string address in new[] { "/audit", "/v1/audit" })
        {
            using HttpResponseMessage refused = await manager.GetAsync(address);
            Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        }
    }

    [Fact]
    public async Task Commands_that_change_something_are_noted_with_who_ran_them()
    {
        CommandRun made = await CommandRun.OfAsync(_host.Folder, "keys", "add", "gateway", "--can", "ingest", "--database", _host.Database.File);
        CommandRun again = await CommandRun.OfAsync(_host.Folder, "keys", "add", "gateway", "--database", _host.Database.File);
        Assert.Equal((0, 1), (made.Code, again.Code));

        JsonElement[] entries = await EntriesAsync("about=gateway");

        Assert.Equal([1, 0], entries.Select(entry => entry.GetProperty("status").GetInt32()));
        Assert.All(entries, entry => Assert.Equal("command", entry.GetProperty("caller_kind").GetString()));
        Assert.Equal("keys add", entries[0].GetProperty("route").GetString());
        Assert.Equal("ingest; everything", entries[1].GetProperty("detail").GetString());
        Assert.DoesNotContain(made.Out.Trim(), JsonSerializer.Serialize(entries), StringComparison.Ordinal);
    }

    private async Task<JsonElement[]> EntriesAsync(string query)
    {
        JsonDocument page = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/audit?" + query));
        return [.. page.RootElement.GetProperty("items").EnumerateArray()];
    }
}
