using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using Washwear.Api.Http;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Approvals;

/// <summary>Approvals over real HTTP: listed by what waiting costs, decided once.</summary>
public sealed partial class ApprovalTests : IAsyncLifetime
{
    private WaitingOven _oven = null!;

    public async Task InitializeAsync() => _oven = await WaitingOven.StartAsync(("alert_check_minutes", "0"));

    public Task DisposeAsync() => _oven.DisposeAsync().AsTask();

    // By hand: washed on 1 March, so the wash of the 2nd is overdue from the 3rd, 00:00; up to the 12th that is 9 days, all of them waiting.
    // In the 7 days ahead no wash can be run: 7 days. The other oven washes.
    [Fact]
    public async Task An_open_approval_says_what_waiting_costs()
    {
        JsonElement row = Assert.Single(await _oven.ListAsync());
        Assert.Equal(
            ("open", "OVEN-1", "jobs", "a1", "wash-pump", "finding"),
            (Text(row, "state"), Text(row, "unit"), Text(row, "source"), Text(row, "key"), Text(row, "position"), Text(row, "position_from")));
        Assert.Equal((9, 7), (Math.Round(row.GetProperty("unwashed_days").GetDouble(), 9), Math.Round(row.GetProperty("unwashed_days_next_week").GetDouble(), 9)));
        Assert.Equal(227, row.GetProperty("waited_hours").GetDouble(), 1e-9);
        Assert.Equal((2, 1), (row.GetProperty("units_at_site").GetInt32(), row.GetProperty("other_units_that_wash").GetInt32()));
        Assert.Equal(180.5, row.GetProperty("amount").GetDouble());
        Assert.Contains("9 days without a wash", Text(row, "sentence"), StringComparison.Ordinal);
        Assert.Empty(row.GetProperty("doubts").EnumerateArray());
    }

    // The same overdue time, counted by the compliance of the window from the asking on.
    [Fact]
    public async Task Unwashed_days_are_those_that_cleaning_charges_to_the_wait()
    {
        JsonElement kept = await _oven.Host.Admin.GetFromJsonAsync<JsonElement>(
            "/v1/cleaning/compliance?from=2026-03-02T13:00:00Z&to=2026-03-12T00:00:00Z&unit=OVEN-1&by=unit");
        double hours = kept.GetProperty("rows")[0].GetProperty("hours_by_cause").GetProperty("lockout_waiting_approval").GetDouble();
        Assert.Equal(hours / 24, (await _oven.ListAsync())[0].GetProperty("unwashed_days").GetDouble(), 1e-9);
    }

    [Theory]
    [InlineData(""","fault_code":"E21" """, "2026-03-05T09:00:00Z", true)]
    [InlineData("", "2026-03-05T09:00:00Z", true)]
    [InlineData(""","fault_code":"E99" """, "2026-03-05T09:00:00Z", false)]
    [InlineData(""","fault_code":"E21" """, "2026-03-01T09:00:00Z", false)] // for an earlier one
    public async Task A_decision_that_comes_as_a_record_of_its_own_answers_what_was_asked(string fault, string at, bool answers)
    {
        await _oven.SendAsync($$"""{"type":"approval","key":"d1","unit":"OVEN-1","decision":"granted","decided_at":"{{at}}","decided_by":"area manager"{{fault}}}""");

        Assert.Equal(answers ? 0 : 1, (await _oven.ListAsync()).Length);
        JsonElement decided = Assert.Single(await _oven.ListAsync("?state=granted"));
        Assert.Equal(answers ? "Replace wash pump" : null, decided.GetProperty("what").GetString());
        Assert.Equal(answers ? "68" : "null", decided.GetProperty("waited_hours").GetRawText());
    }

    // Nobody is kept from it, since a small firm has one person; but a list of decisions on money says it.
    [Theory]
    [InlineData("Jobs", "Decided by the person who asked for it.")]
    [InlineData("area manager", "Entered by the person who asked for it, in the name of area manager.")]
    public async Task A_decision_by_who_asked_is_taken_and_doubted(string by, string doubt)
    {
        HttpClient asker = await _oven.Host.ClientAsync(Abilities.Work | Abilities.Read, "jobs");
        using HttpResponseMessage answer = await _oven.DecideAsync(await _oven.OnlyOpenAsync(), new { decision = "granted", by }, asker);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(doubt, Assert.Single((await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("doubts").EnumerateArray()).GetString());

        JsonElement listed = Assert.Single(await _oven.ListAsync("?state=granted"));
        Assert.True(listed.GetProperty("decided_by_asker").GetBoolean());
        string page = await _oven.Host.Admin.GetStringAsync("/approvals");
        Assert.Contains(doubt, page, StringComparison.Ordinal);
        Assert.Contains("1 of them was decided by who had asked.", page, StringComparison.Ordinal);
        JsonElement audit = await _oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/audit?action=approval.decide");
        Assert.Equal("granted, by who asked for it", Text(audit.GetProperty("items")[0], "detail"));
    }

    [Theory]
    [InlineData("area manager", false)]
    [InlineData("CRM", true)]
    public async Task A_decision_of_its_own_is_held_against_who_asked_too(string by, bool byAsker)
    {
        await _oven.SendAsync(
            """{"type":"approval","key":"a2","source":"crm","unit":"OVEN-2","asked_at":"2026-03-03T13:00:00Z","what":"A hose","fault_code":"E30"}""",
            $$"""{"type":"approval","key":"d2","source":"erp","unit":"OVEN-2","decision":"refused","decided_at":"2026-03-05T09:00:00Z","decided_by":"{{by}}"}""");
        JsonElement row = Assert.Single(await _oven.ListAsync("?state=refused"));
        Assert.Equal(byAsker, row.GetProperty("decided_by_asker").GetBoolean());
        Assert.Equal(byAsker ? 1 : 0, row.GetProperty("doubts").GetArrayLength());
    }

    [Fact]
    public async Task A_decision_becomes_a_record_that_replaces_the_one_that_asked()
    {
        long id = await _oven.OnlyOpenAsync();
        JsonElement decided = await _oven.GrantAsync(id);
        Assert.Equal(("granted", "area manager", "jobs"), (Text(decided, "state"), Text(decided, "decided_by"), Text(decided, "source")));
        Assert.Equal(WaitingOven.Now, decided.GetProperty("decided_at").GetDateTimeOffset());
        Assert.Equal(9, decided.GetProperty("unwashed_days").GetDouble(), 1e-9);
        Assert.Contains("Entered with the key", Text(decided, "note"), StringComparison.Ordinal);
        Assert.False(decided.GetProperty("decided_by_asker").GetBoolean());
        Assert.Empty(await _oven.ListAsync());
        Assert.Equal(decided.GetProperty("id").GetInt64(), Assert.Single(await _oven.ListAsync("?state=granted")).GetProperty("id").GetInt64());
        Assert.Empty(await _oven.ListAsync("?state=refused"));

        JsonElement[] records =
        [
            .. (await _oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/records?unit=OVEN-1&type=approval")).GetProperty("items").EnumerateArray(),
        ];
        Assert.Equal(["a1", $"decision-on-{id}"], records.Select(record => Text(record, "key")));
        Assert.Equal([true, false], records.Select(record => record.GetProperty("voided").GetBoolean()));
        Assert.Equal("a1", Text(records[1], "replaces"));

        // The lockout waits for the part from here on, as if the record had been sent.
        JsonElement status = await _oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status?unit=OVEN-1");
        Assert.Equal("lockout_waiting_part", Text(status.GetProperty("rows")[0], "cause"));
    }

    [Fact]
    public async Task Deciding_twice_is_a_conflict_that_says_who_decided_and_when()
    {
        long id = await _oven.OnlyOpenAsync();
        JsonElement decided = await _oven.GrantAsync(id);
        foreach (long twice in new[] { id, decided.GetProperty("id").GetInt64() })
        {
            using HttpResponseMessage again = await _oven.DecideAsync(twice, new { decision = "refused", by = "somebody else" });
            JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.Conflict, again);
            Assert.Contains("granted already, by area manager, Thu 12 Mar 2026, 00:00 UTC", Text(problem, "detail"), StringComparison.Ordinal);
        }

        Assert.Single(await _oven.ListAsync("?state=all"));
    }

    [Fact]
    public async Task Of_two_who_decide_at_once_one_is_told_no()
    {
        long id = await _oven.OnlyOpenAsync();
        HttpResponseMessage[] answers = await Task.WhenAll(
            Enumerable.Range(0, 6).Select(i => _oven.DecideAsync(id, new { decision = i % 2 == 0 ? "granted" : "refused", by = "decider " + i })));
        Assert.Equal(1, answers.Count(answer => answer.StatusCode == HttpStatusCode.OK));
        Assert.Equal(5, answers.Count(answer => answer.StatusCode == HttpStatusCode.Conflict));
        Assert.Single(await _oven.ListAsync("?state=all"));
        Array.ForEach(answers, answer => answer.Dispose());
    }

    [Fact]
    public async Task A_request_that_was_withdrawn_or_corrected_cannot_be_decided()
    {
        long id = await _oven.OnlyOpenAsync();
        await _oven.SendAsync(WaitingOven.Asked("a2", ",\"replaces\":\"a1\""));
        using HttpResponseMessage corrected = await _oven.DecideAsync(id, new { decision = "granted", by = "x" });
        JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.Conflict, corrected);
        long next = await _oven.OnlyOpenAsync();
        Assert.Contains($"number {next} stands in its place", Text(problem, "detail"), StringComparison.Ordinal);

        await _oven.SendAsync("""{"type":"void","key":"gone","source":"jobs","at":"2026-03-11T00:00:00Z","voids":"a2","reason":"mended by warranty"}""");
        using HttpResponseMessage withdrawn = await _oven.DecideAsync(next, new { decision = "granted", by = "x" });
        JsonElement gone = await ProblemAssert.IsAsync(HttpStatusCode.Conflict, withdrawn);
        Assert.Contains("withdrawn (“mended by warranty”)", Text(gone, "detail"), StringComparison.Ordinal);
        Assert.Empty(await _oven.ListAsync("?state=all"));
    }

    [Fact]
    public async Task What_is_no_approval_and_what_breaks_a_rule_is_refused()
    {
        using HttpResponseMessage unknown = await _oven.DecideAsync(987654, new { decision = "granted", by = "x" });
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, unknown);
        using HttpResponseMessage noApproval = await _oven.DecideAsync(1, new { decision = "granted", by = "x" });
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, noApproval);
        long id = await _oven.OnlyOpenAsync();
        using HttpResponseMessage nobody = await _oven.DecideAsync(id, new { decision = "granted", by = " " });
        await ProblemAssert.ListsAsync(nobody, "by required");
        using HttpResponseMessage maybe = await _oven.DecideAsync(id, new { decision = "maybe", by = "x" });
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, maybe);
        using HttpResponseMessage tooLong = await _oven.DecideAsync(id, new { decision = "granted", by = "x", note = new string('n', 1001) });
        await ProblemAssert.ListsAsync(tooLong, "note length");
        using HttpResponseMessage state = await _oven.Host.Admin.GetAsync("/v1/approvals?state=asleep");
        await ProblemAssert.ListsAsync(state, "state choice");
        using HttpResponseMessage cursor = await _oven.Host.Admin.GetAsync("/v1/approvals?after=YWJj");
        await ProblemAssert.ListsAsync(cursor, "after cursor");
        Assert.Equal(id, await _oven.OnlyOpenAsync());
    }

    // An approval asked for in the future of this clock (units and people may run ahead by a day) cannot have been decided yet.
    [Fact]
    public async Task A_decision_goes_through_the_rules_of_all_records()
    {
        await _oven.SendAsync(
            """{"type":"approval","key":"ahead","unit":"OVEN-2","asked_at":"2026-03-12T06:00:00Z","what":"Gasket"}""");
        long id = (await _oven.ListAsync("?unit=OVEN-2"))[0].GetProperty("id").GetInt64();
        using HttpResponseMessage early = await _oven.DecideAsync(id, new { decision = "granted", by = "x" });
        await ProblemAssert.ListsAsync(early, "decided_at out_of_order");
    }

    [Fact]
    public async Task A_reader_may_look_and_not_decide()
    {
        long id = await _oven.OnlyOpenAsync();
        using HttpClient reader = await _oven.Host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage answer = await _oven.DecideAsync(id, new { decision = "granted", by = "x" }, reader);
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, answer);
        Assert.DoesNotContain("value=\"granted\"", await reader.GetStringAsync("/approvals"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_decides_with_one_button_and_refuses_a_form_without_its_token()
    {
        long id = await _oven.OnlyOpenAsync();
        HttpClient admin = _oven.Host.Admin;
        using HttpResponseMessage bare = await admin.PostAsync($"/approvals/{id}/decision", new FormUrlEncodedContent([]));
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, bare);

        string page = await admin.GetStringAsync("/approvals");
        Assert.Contains("Replace wash pump", page, StringComparison.Ordinal);
        string token = Token().Matches(page)[^1].Groups[1].Value;
        Dictionary<string, string> form = new() { ["__RequestVerificationToken"] = token, ["by"] = "area manager", ["note"] = string.Empty };
        using HttpResponseMessage unsaid = await admin.PostAsync($"/approvals/{id}/decision", new FormUrlEncodedContent(form));
        await ProblemAssert.ListsAsync(unsaid, "decision choice");

        form["decision"] = "refused";
        using HttpResponseMessage answer = await admin.PostAsync($"/approvals/{id}/decision", new FormUrlEncodedContent(form));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        string after = await admin.GetStringAsync(answer.Headers.Location);
        Assert.Contains("No repair waits for an approval.", after, StringComparison.Ordinal);
        Assert.Contains("role=\"status\"", after, StringComparison.Ordinal);
        using HttpResponseMessage twice = await admin.PostAsync($"/approvals/{id}/decision", new FormUrlEncodedContent(form));
        await ProblemAssert.IsAsync(HttpStatusCode.Conflict, twice);
    }

    [Fact]
    public async Task Pages_of_the_list_hold_every_approval_once_open_ones_first()
    {
        await _oven.SendAsync(
            """{"type":"approval","key":"b1","unit":"OVEN-2","asked_at":"2026-03-05T00:00:00Z","what":"Hose"}""",
            """{"type":"approval","key":"b2","unit":"OVEN-2","asked_at":"2026-03-01T00:00:00Z","decision":"granted","decided_at":"2026-03-04T00:00:00Z","decided_by":"x"}""",
            """{"type":"approval","key":"b3","unit":"OVEN-2","asked_at":"2026-03-01T00:00:00Z","decision":"refused","decided_at":"2026-03-06T00:00:00Z","decided_by":"x"}""");
        var keys = new List<string>();
        string? next = null;
        do
        {
            JsonElement page = await _oven.Host.Admin.GetFromJsonAsync<JsonElement>(
                "/v1/approvals?state=all&limit=1" + (next is null ? string.Empty : "&after=" + next));
            keys.AddRange(page.GetProperty("rows").EnumerateArray().Select(row => Text(row, "key")));
            next = page.GetProperty("next").GetString();
        }
        while (next is not null && keys.Count < 10);

        Assert.Equal(["a1", "b1", "b3", "b2"], keys);
        JsonElement second = (await _oven.ListAsync("?unit=OVEN-2"))[0];
        Assert.Equal(0, second.GetProperty("unwashed_days").GetDouble());
        Assert.Contains("not locked out", second.GetProperty("doubts")[0].GetString(), StringComparison.Ordinal);
        string csv = await _oven.Host.Admin.GetStringAsync("/v1/approvals?state=all&format=csv");
        Assert.Equal(5, csv.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length);
    }

    [Fact]
    public async Task The_example_of_a_decision_is_one_that_is_taken()
    {
        using HttpResponseMessage answer = await _oven.DecideAsync(
            await _oven.OnlyOpenAsync(), ContractExamples.Request("POST", "v1/approvals/{id}/decision")!);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
