using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Visits;

/// <summary>Closing a visit over the form, as a browser sends it: what becomes of it, and what is refused.</summary>
public sealed class CloseOutTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
        await SendAsync(
            """{"type":"part_change","key":"p0","unit":"OVEN-1","at":"2025-06-01T08:00:00Z","position":"wash-pump","fitted":{"part_number":"P/100-2"}}""",
            """{"type":"fault","key":"f0","unit":"OVEN-1","at":"2026-03-01T20:00:00Z","code":"E21"}""");
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task The_form_begins_with_the_open_fault_now_on_the_sites_wall_clock_and_the_readers_name()
    {
        await SendAsync("""{"type":"visit","key":"asked","unit":"OVEN-1","asked_at":"2026-03-01T21:30:00Z"}""");
        CloseOutSheet sheet = await CloseOutSheet.OpenAsync(_host.Admin);

        Assert.Equal("E21", sheet["fault"]);
        Assert.Equal("2026-03-02T13:00", sheet["arrived"]);
        Assert.Equal("2026-03-01T22:30", sheet["asked"]);
        Assert.Equal("asked", sheet["replaces"]);
        Assert.Equal(sheet["saved_by"], sheet["technician"]);
        Assert.Contains("Turn the impeller by hand", sheet.Document.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("fitted 1 Jun 2025", sheet.Document.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_taps_are_enough_and_the_receipt_says_what_follows()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_part"));
        using HttpResponseMessage answer = await sheet.SubmitAsync();

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(_host.Admin, answer.Headers.Location!.OriginalString);
        string page = (await CloseOutSheet.ParseAsync(receipt)).Body!.TextContent;
        Assert.Contains("Saved. You may go.", page, StringComparison.Ordinal);
        Assert.Contains("The repair waits for a part.", page, StringComparison.Ordinal);
        Assert.Equal("waiting_part", (await sheet.VisitAsync()).GetProperty("outcome").GetString());
    }

    [Fact]
    public async Task A_whole_close_out_becomes_a_visit_a_part_change_and_a_failure_in_part_life()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("arrived", "2026-03-02T09:00"), ("left", "2026-03-02T11:30"), ("technician", "tech 4"),
            ("check/turn-impeller/result", "fail"), ("check/turn-impeller/reading", "1,5"), ("check/turn-impeller/unit", "A"),
            ("found/wash-pump/seized/scale", "yes"),
            ("part/wash-pump/out", "failed"), ("part/wash-pump/mode", "seized"), ("part/wash-pump/in", "P/100-2"), ("part/wash-pump/batch", "B7"),
            ("part/suction-hose/looks", "worn"), ("outcome", "repaired_not_proven"), ("cleared/E21", "yes"), ("note", "Scale in the pump.\r\nHose next time."));
        JsonElement answer = await sheet.SendAsync();
        Assert.Equal("saved", answer.GetProperty("outcome").GetString());

        JsonElement visit = await sheet.VisitAsync();
        Assert.Equal("2026-03-02T08:00:00Z", visit.GetProperty("arrived_at").GetString());
        Assert.Equal("2026-03-02T10:30:00Z", visit.GetProperty("left_at").GetString());
        Assert.Equal(1.5, visit.GetProperty("checks")[0].GetProperty("reading").GetDouble());
        Assert.Equal("Wash pump: seized (scale)", Assert.Single(visit.GetProperty("findings").EnumerateArray()).GetString());
        Assert.Equal("Wash pump: old part out, failed (seized); new part in, P/100-2, batch B7.", Assert.Single(visit.GetProperty("parts").EnumerateArray()).GetString());
        Assert.Equal("Pump suction hose: worn", Assert.Single(visit.GetProperty("conditions").EnumerateArray()).GetString());
        Assert.Equal("Scale in the pump.\nHose next time.", visit.GetProperty("note").GetString());
        Assert.All(visit.GetProperty("proofs").EnumerateArray(), proof => Assert.Equal("not_done", proof.GetProperty("result").GetString()));
        Assert.Contains(visit.GetProperty("follows").EnumerateArray(), line => line.GetString()!.Contains("its failure counts in part life", StringComparison.Ordinal));

        JsonElement lives = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump/lives");
        JsonElement failed = lives.GetProperty("items").EnumerateArray().Single(life => life.GetProperty("failure_mode").GetString() == "seized");
        Assert.Equal(274, failed.GetProperty("age_days").GetDouble());
        JsonElement unit = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");
        Assert.Empty(unit.GetProperty("open_faults").EnumerateArray());
    }

    [Fact]
    public async Task A_form_opened_again_says_that_somebody_has_closed_out_a_visit_here()
    {
        CloseOutSheet first = await CloseOutSheet.OpenAsync(_host.Admin);
        Assert.Null(first.Document.QuerySelector("#latest"));
        await first.With(("arrived", "2026-03-02T11:00"), ("technician", "tech 4"), ("outcome", "waiting_part")).SendAsync();

        using HttpClient other = await _host.ClientAsync(Abilities.Read | Abilities.Work, "tech 5");
        IElement latest = (await CloseOutSheet.OpenAsync(other)).Document.QuerySelector("#latest")!;
        Assert.Contains("tech 4", latest.TextContent, StringComparison.Ordinal);
        Assert.Contains(first.Key, latest.QuerySelector("a")!.GetAttribute("href")!, StringComparison.Ordinal);
        Assert.Null((await CloseOutSheet.OpenAsync(_host.Admin, "unit=OVEN-1&corrects=" + first.Key)).Document.QuerySelector("#latest"));
    }

    [Theory]
    [InlineData("check/turn-impeller/reading", "1,5", "check/turn-impeller/result")]
    [InlineData("part/wash-pump/mode", "seized", "part/wash-pump/out")]
    [InlineData("part/wash-pump/seen-on", "2026-02-01", "part/wash-pump/out")]
    [InlineData("part/wash-pump/batch", "B7", "part/wash-pump/in")]
    [InlineData("other/mode", "a loose clamp", "other")]
    public async Task What_belongs_to_a_choice_that_nobody_made_is_asked_about_and_not_dropped(string field, string value, string asked)
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With((field, value), ("outcome", "waiting_part"));
        await sheet.RefusedAsync(asked, "belongs_to_nothing");
    }

    [Theory]
    [InlineData("arrived", "0001-01-01T00:00")]
    [InlineData("left", "0001-01-01T00:00")]
    [InlineData("asked", "0001-01-01T00:30")]
    public async Task A_wall_time_before_the_first_year_that_can_be_written_is_refused(string field, string wall)
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With((field, wall), ("outcome", "waiting_part"));
        JsonElement answer = await sheet.SendAsync(HttpStatusCode.UnprocessableEntity);
        Assert.All(answer.GetProperty("problems").EnumerateArray(), problem => Assert.Contains(problem.GetProperty("rule").GetString(), new[] { "too_old", "out_of_order" }));
    }

    [Fact]
    public async Task A_close_out_is_corrected_by_its_own_form_and_nothing_of_it_counts_twice()
    {
        CloseOutSheet first = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("arrived", "2026-03-02T09:00"), ("left", "2026-03-02T11:30"), ("technician", "tech 4"),
            ("check/turn-impeller/result", "fail"), ("check/turn-impeller/reading", "1,5"), ("check/turn-impeller/unit", "A"),
            ("part/wash-pump/out", "failed"), ("part/wash-pump/mode", "seized"), ("part/wash-pump/in", "P/100-2"), ("part/wash-pump/batch", "B7"),
            ("part/suction-hose/out", "precaution"), ("part/suction-hose/in", "?"), ("outcome", "repaired_not_proven"), ("cleared/E21", "yes"), ("note", "Wrong pump."));
        Assert.Equal("saved", (await first.SendAsync()).GetProperty("outcome").GetString());

        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(_host.Admin, "/visits/" + first.Key);
        string link = (await CloseOutSheet.ParseAsync(receipt)).QuerySelector("a[href*='corrects=']")!.GetAttribute("href")!;
        CloseOutSheet again = await CloseOutSheet.OpenAsync(_host.Admin, link[(link.IndexOf('?', StringComparison.Ordinal) + 1)..]);
        Assert.NotEqual(first.Key, again.Key);
        foreach (string field in new[] { "arrived", "left", "technician", "fault", "check/turn-impeller/result", "check/turn-impeller/unit", "part/wash-pump/out", "part/wash-pump/mode", "part/wash-pump/in", "part/wash-pump/batch", "part/wash-pump/fitted", "part/suction-hose/in", "outcome", "cleared/E21", "note" })
        {
            Assert.Equal((field, first[field]), (field, again[field]));
        }

        Assert.Equal("1.5", again["check/turn-impeller/reading"]);

        again.With(("part/wash-pump/out", "precaution"), ("part/wash-pump/mode", null), ("part/suction-hose/out", null), ("part/suction-hose/in", null), ("note", "It was weak, not dead."));
        Assert.Equal("saved", (await again.SendAsync()).GetProperty("outcome").GetString());
        Assert.Equal("already_saved", (await again.SendAsync()).GetProperty("outcome").GetString());

        JsonElement now = await again.VisitAsync();
        Assert.Equal("It was weak, not dead.", now.GetProperty("note").GetString());
        Assert.Empty(now.GetProperty("others").EnumerateArray());
        Assert.True((await first.VisitAsync()).GetProperty("is_voided").GetBoolean());
        JsonElement lives = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump/lives");
        Assert.Equal("precaution", lives.GetProperty("items").EnumerateArray().Single(life => life.GetProperty("ended_how").GetString() is { } how && how != "voided").GetProperty("ended_how").GetString());
        Assert.Empty((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1")).GetProperty("open_faults").EnumerateArray());
        JsonElement hoses = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/suction-hose/lives");
        Assert.DoesNotContain(hoses.GetProperty("items").EnumerateArray(), life => life.GetProperty("doubt").GetString() is null);

        using HttpResponseMessage old = await CloseOutSheet.ReadAsync(_host.Admin, "/visits/" + first.Key);
        IHtmlDocument page = await CloseOutSheet.ParseAsync(old);
        Assert.NotNull(page.QuerySelector($"a[href^='/visits/{again.Key}']"));
        Assert.Null(page.QuerySelector("a[href*='corrects=']"));
    }

    [Fact]
    public async Task A_decided_approval_outlives_the_correction_and_an_open_one_is_not_asked_for_twice()
    {
        CloseOutSheet first = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_approval"), ("found/wash-pump/seized/scale", "yes"), ("left", "2026-03-02T13:00"));
        await first.SendAsync();
        CloseOutSheet second = (await CloseOutSheet.OpenAsync(_host.Admin, "unit=OVEN-1&corrects=" + first.Key)).With(("ask/amount", "99"));
        await second.SendAsync();
        JsonElement open = Assert.Single((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/approvals?state=open")).GetProperty("rows").EnumerateArray());
        Assert.Equal(99, open.GetProperty("amount").GetDouble());

        using HttpResponseMessage decided = await _host.Admin.PostAsJsonAsync($"/v1/approvals/{open.GetProperty("id").GetInt64()}/decision", new { decision = "granted", by = "anna" });
        Assert.Equal(HttpStatusCode.OK, decided.StatusCode);
        CloseOutSheet third = (await CloseOutSheet.OpenAsync(_host.Admin, "unit=OVEN-1&corrects=" + second.Key)).With(("note", "Pump of the left circuit."));
        await third.SendAsync();
        JsonElement one = Assert.Single((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/approvals?state=all")).GetProperty("rows").EnumerateArray());
        Assert.Equal("granted", one.GetProperty("state").GetString());
    }

    [Fact]
    public async Task A_withdrawn_visit_stays_on_record_and_counts_no_longer()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("part/wash-pump/out", "failed"), ("part/wash-pump/in", "P/100-2"), ("outcome", "repaired_not_proven"), ("cleared/E21", "yes"), ("left", "2026-03-02T13:00"));
        await sheet.SendAsync();
        string token = sheet["__RequestVerificationToken"]!;
        async Task<HttpStatusCode> WithdrawAsync(string reason)
        {
            using var body = new FormUrlEncodedContent([new("__RequestVerificationToken", token), new("reason", reason)]);
            using HttpResponseMessage answer = await _host.Admin.PostAsync($"/visits/{sheet.Key}/withdrawal", body);
            return answer.StatusCode;
        }

        Assert.Equal(HttpStatusCode.BadRequest, await WithdrawAsync(" "));
        Assert.Equal(HttpStatusCode.SeeOther, await WithdrawAsync("It was the oven beside it."));
        Assert.Equal(HttpStatusCode.SeeOther, await WithdrawAsync("It was the oven beside it."));

        Assert.True((await sheet.VisitAsync()).GetProperty("is_voided").GetBoolean());
        JsonElement unit = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");
        Assert.Equal("E21", Assert.Single(unit.GetProperty("open_faults").EnumerateArray()).GetProperty("code").GetString());
        JsonElement lives = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump/lives");
        Assert.DoesNotContain(lives.GetProperty("items").EnumerateArray(), life => life.GetProperty("ended_how").GetString() == "failed");
        CloseOutSheet late = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("corrects", sheet.Key), ("outcome", "no_fault_found"));
        await late.RefusedAsync("key", "corrected_before");
    }

    [Fact]
    public async Task Nobody_corrects_or_withdraws_what_somebody_else_recorded()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_part"));
        await sheet.SendAsync();
        using HttpClient other = await _host.ClientAsync(Abilities.Read | Abilities.Work, "tech 5");
        using HttpResponseMessage form = await CloseOutSheet.ReadAsync(other, $"/visits/new?unit=OVEN-1&corrects={sheet.Key}");
        Assert.Equal(HttpStatusCode.NotFound, form.StatusCode);
        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(other, "/visits/" + sheet.Key);
        IHtmlDocument page = await CloseOutSheet.ParseAsync(receipt);
        Assert.Null(page.QuerySelector("a[href*='corrects=']"));
        Assert.Null(page.QuerySelector("form[action$='/withdrawal']"));
        CloseOutSheet theirs = (await CloseOutSheet.OpenAsync(other)).With(("corrects", sheet.Key), ("outcome", "waiting_part"));
        await theirs.RefusedAsync("key", "nothing_to_correct");
    }

    [Fact]
    public async Task A_visit_that_waits_for_an_approval_asks_for_it_and_its_receipt_says_what_came_of_it()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("outcome", "waiting_approval"), ("found/wash-pump/seized/scale", "yes"), ("ask/amount", "310,50"), ("left", "2026-03-02T13:00"));
        await sheet.SendAsync();

        JsonElement waits = Assert.Single((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/approvals?state=open")).GetProperty("rows").EnumerateArray());
        Assert.Equal("Replace wash pump", waits.GetProperty("what").GetString());
        Assert.Equal(310.5, waits.GetProperty("amount").GetDouble());
        Assert.Equal("E21", waits.GetProperty("fault_code").GetString());
        Assert.Equal("2026-03-02T12:00:00Z", waits.GetProperty("asked_at").GetString());
        Assert.Equal(
            "Approval asked for: Replace wash pump, 310.5; nobody has decided yet.",
            (await sheet.VisitAsync()).GetProperty("approval").GetProperty("sentence").GetString());

        _host.Clock.Advance(TimeSpan.FromHours(2));
        using HttpResponseMessage decided = await _host.Admin.PostAsJsonAsync(
            $"/v1/approvals/{waits.GetProperty("id").GetInt64()}/decision", new { decision = "granted", by = "B. Operator" });
        Assert.True(decided.IsSuccessStatusCode, await decided.Content.ReadAsStringAsync());
        Assert.Contains("; granted by B. Operator, ", (await sheet.VisitAsync()).GetProperty("approval").GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("E21", null, "Repair of fault E21")]
    [InlineData(null, null, "Repair")]
    [InlineData("E21", "New drum, both hoses", "New drum, both hoses")]
    public async Task What_has_to_be_approved_may_be_left_empty(string? fault, string? typed, string what)
    {
        await (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_approval"), ("fault", fault), ("ask/what", typed)).SendAsync();
        JsonElement waits = Assert.Single((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/approvals?state=open")).GetProperty("rows").EnumerateArray());
        Assert.Equal(what, waits.GetProperty("what").GetString());
    }

    [Fact]
    public async Task An_amount_that_is_no_number_is_told_beside_its_field_and_no_approval_is_asked_where_the_visit_waits_for_none()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_approval"), ("ask/amount", "about 300"));
        using HttpResponseMessage answer = await sheet.SubmitAsync();
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("is no number", (await CloseOutSheet.ParseAsync(answer)).QuerySelector(".ask .field-error")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(0, await CountAsync("visit"));

        await sheet.With(("outcome", "waiting_part")).SendAsync();
        Assert.Equal(0, await CountAsync("approval"));
    }

    [Fact]
    public async Task Sent_twice_it_is_saved_once()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "no_fault_found"), ("left", "2026-03-02T13:20"));
        Assert.Equal("saved", (await sheet.SendAsync()).GetProperty("outcome").GetString());
        _host.Clock.Advance(TimeSpan.FromHours(3));
        Assert.Equal("already_saved", (await sheet.SendAsync()).GetProperty("outcome").GetString());

        Assert.Equal(1, await CountAsync("visit"));
    }

    [Fact]
    public async Task Sent_twice_without_the_time_of_leaving_it_is_saved_once_too()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "no_fault_found"));
        using HttpResponseMessage first = await sheet.SubmitAsync();
        _host.Clock.Advance(TimeSpan.FromMinutes(7));
        using HttpResponseMessage second = await sheet.SubmitAsync();

        Assert.Contains("done=saved", first.Headers.Location!.OriginalString, StringComparison.Ordinal);
        Assert.Contains("done=already_saved", second.Headers.Location!.OriginalString, StringComparison.Ordinal);
        Assert.Equal(1, await CountAsync("visit"));
    }

    [Fact]
    public async Task Other_content_under_the_same_key_is_refused_and_the_first_stays()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "no_fault_found"), ("left", "2026-03-02T13:20"));
        await sheet.SendAsync();
        await sheet.With(("outcome", "waiting_part")).RefusedAsync("key", "key_conflict");

        Assert.Equal("no_fault_found", (await sheet.VisitAsync()).GetProperty("outcome").GetString());
    }

    [Theory]
    [InlineData("not_done", "proof_missing", "No leak")]
    [InlineData("fail", "proof_failed", "failed: No leak")]
    public async Task Proven_is_refused_until_every_proof_has_passed(string result, string rule, string told)
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).WithProofs().With(("outcome", "proven"), ("proof/no-leak", result == "not_done" ? "" : result));
        JsonElement problem = await sheet.RefusedAsync("outcome", rule);
        Assert.Contains(told, problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Equal(0, await CountAsync("visit"));

        Assert.Equal("saved", (await sheet.WithProofs().SendAsync()).GetProperty("outcome").GetString());
    }

    [Fact]
    public async Task Every_repair_is_proven_by_its_heating_circuits_too_also_one_of_the_water_side()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).WithProofs().With(("outcome", "proven"), ("proof/heating-circuits", ""));
        JsonElement problem = await sheet.RefusedAsync("outcome", "proof_missing");
        Assert.Contains("Every heating circuit in every mode", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Equal("saved", (await sheet.With(("outcome", "no_fault_found")).SendAsync()).GetProperty("outcome").GetString());
    }

    [Fact]
    public async Task What_is_wrong_is_told_in_words_of_the_form()
    {
        JsonElement problem = await (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_part"), ("left", "2026-03-02T08:00")).RefusedAsync("left", "out_of_order");
        Assert.Equal("The time of leaving is before the time of arrival.", problem.GetProperty("detail").GetString());
    }

    [Fact]
    public async Task A_visit_of_another_sender_whose_key_holds_a_slash_has_its_receipt_too()
    {
        await SendAsync("""{"type":"visit","key":"job/7 b","source":"desk","unit":"OVEN-1","arrived_at":"2026-03-01T08:00:00Z","left_at":"2026-03-01T09:00:00Z","outcome":"no_fault_found"}""");
        using HttpResponseMessage page = await CloseOutSheet.ReadAsync(_host.Admin, "/units/OVEN-1");
        string link = (await CloseOutSheet.ParseAsync(page)).QuerySelector(".visit-list a")!.GetAttribute("href")!;
        Assert.Equal("/visits/job%2F7%20b?source=desk", link);
        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(_host.Admin, link);
        Assert.Contains("no fault found", (await CloseOutSheet.ParseAsync(receipt)).QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_said_how_it_ended_is_refused() => await (await CloseOutSheet.OpenAsync(_host.Admin)).RefusedAsync("outcome", "missing");

    [Fact]
    public async Task A_unit_that_has_gone_is_refused_and_the_form_comes_again_with_everything_entered()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("asked", "2026-02-27T08:00"), ("outcome", "waiting_part"), ("note", "Was on the yard."), ("part/suction-hose/looks", "poor"), ("check/turn-impeller/result", "pass"));
        using HttpResponseMessage gone = await Samples.PutAsync(
            _host.Admin, "/v1/units/OVEN-1", Samples.Unit.Replace("\"reporting_hours\"", "\"decommissioned_on\":\"2026-02-28\",\"reporting_hours\"", StringComparison.Ordinal));
        Assert.True(gone.IsSuccessStatusCode);
        await sheet.RefusedAsync("unit", "after_decommissioning");

        using HttpResponseMessage again = await sheet.SubmitAsync();
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.StatusCode);
        IHtmlDocument page = await CloseOutSheet.ParseAsync(again);
        Assert.Contains("left on 2026-02-28", page.QuerySelector("#problems")!.TextContent, StringComparison.Ordinal);
        Assert.Equal("Was on the yard.", page.QuerySelector<IHtmlTextAreaElement>("textarea[name=note]")!.Value);
        Assert.True(page.QuerySelector<IHtmlInputElement>("input[name='part/suction-hose/looks'][value=poor]")!.IsChecked);
        Assert.True(page.QuerySelector<IHtmlInputElement>("input[name='check/turn-impeller/result'][value=pass]")!.IsChecked);
        Assert.True(page.QuerySelector<IHtmlInputElement>("input[name=outcome][value=waiting_part]")!.IsChecked);
        Assert.Equal(sheet.Key, page.QuerySelector<IHtmlInputElement>("input[name=key]")!.Value);
        Assert.Equal(0, await CountAsync("visit"));
    }

    [Fact]
    public async Task A_unit_that_nobody_knows_has_no_form_and_its_close_out_is_refused()
    {
        using HttpResponseMessage form = await CloseOutSheet.ReadAsync(_host.Admin, "/visits/new?unit=OVEN-9");
        Assert.Equal(HttpStatusCode.NotFound, form.StatusCode);
        using HttpResponseMessage none = await CloseOutSheet.ReadAsync(_host.Admin, "/visits/new");
        Assert.Equal(HttpStatusCode.BadRequest, none.StatusCode);

        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_part"), ("unit", "OVEN-9"));
        await sheet.RefusedAsync("unit", "unknown_unit");
        using HttpResponseMessage page = await sheet.SubmitAsync();
        Assert.Equal(HttpStatusCode.NotFound, page.StatusCode);
    }

    [Fact]
    public async Task A_part_taken_out_before_it_was_fitted_is_refused_beside_its_field_and_nothing_is_saved()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("outcome", "repaired_not_proven"), ("part/wash-pump/out", "failed"), ("part/wash-pump/at", "2025-05-20T10:00"));
        await sheet.RefusedAsync("part/wash-pump/at", "removed_before_fitted");
        using HttpResponseMessage again = await sheet.SubmitAsync();
        IHtmlDocument page = await CloseOutSheet.ParseAsync(again);
        Assert.Contains("taken out at Tue 20 May 2025, 10:00, but had been fitted only at Sun 1 Jun 2025, 10:00.", page.QuerySelector("details.part .field-error")!.TextContent, StringComparison.Ordinal);

        Assert.Equal(0, await CountAsync("visit"));
        Assert.Equal(1, await CountAsync("part_change"));
        JsonElement refused = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Empty(refused.GetProperty("items").EnumerateArray());
    }

    [Fact]
    public async Task A_program_that_says_when_the_part_had_been_fitted_is_refused_alike()
    {
        JsonElement answer = await Sending.SendAsync(_host.Admin, """
            {"type":"part_change","key":"p1","unit":"OVEN-1","at":"2025-05-20T08:00:00Z","position":"wash-pump",
             "removed":{"reason":"failed","fitted_at":"2025-06-01T08:00:00Z"}}
            """);
        Assert.Equal("removed_before_fitted", answer.GetProperty("rows")[0].GetProperty("problem").GetProperty("rule").GetString());
    }

    [Theory]
    [InlineData("arrived", "yesterday", "arrived", "instant")]
    [InlineData("arrived", "2026-03-05T08:00", "arrived", "in_the_future")]
    [InlineData("left", "2026-03-02T08:00", "left", "out_of_order")]
    [InlineData("asked", "2026-03-02T18:00", "arrived", "out_of_order")]
    [InlineData("check/turn-impeller/reading", "about two", "check/turn-impeller", "kind")]
    [InlineData("part/suction-hose/looks", "splendid", "part/suction-hose/looks", "kind")]
    [InlineData("part/wash-pump/out", "stolen", "part/wash-pump/out", "unknown_word")]
    [InlineData("part/roof/looks", "good", "part/roof/looks", "unknown_position")]
    [InlineData("part/wash-pump/seen-on", "2026-03-30", "part/wash-pump/seen", "seen_good_after_removal")]
    [InlineData("outcome", "mended", "outcome", "unknown_word")]
    [InlineData("proof/no-leak", "perhaps", "proof/no-leak", "kind")]
    [InlineData("note", "\u0007", "note", "printable")]
    [InlineData("key", "a key!", "key", "key")]
    [InlineData("saved_by", "somebody else", "key", "another_person")]
    public async Task Each_refusal_stands_at_its_field_and_says_what_to_do(string name, string value, string field, string rule)
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(
            ("outcome", "waiting_part"), ("check/turn-impeller/result", "pass"), ("part/wash-pump/out", name.StartsWith("part/wash-pump", StringComparison.Ordinal) ? "found_failed" : ""));
        await sheet.With((name, value)).RefusedAsync(field, rule);
        Assert.Equal(0, await CountAsync("visit"));
    }

    [Fact]
    public async Task A_key_that_may_only_read_sees_so_at_once_and_sends_nothing()
    {
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(reader)).With(("outcome", "waiting_part"));
        Assert.Contains("may read, but not send", sheet.Document.QuerySelector("[role=alert]")!.TextContent, StringComparison.Ordinal);
        using HttpResponseMessage answer = await sheet.SubmitAsync();
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task A_form_without_its_token_is_refused_and_the_token_can_be_had_afresh()
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "waiting_part"), ("__RequestVerificationToken", null));
        await sheet.SendAsync(HttpStatusCode.BadRequest);
        JsonElement fresh = await _host.Admin.GetFromJsonAsync<JsonElement>("/visits/form-token");
        Assert.Equal(sheet["saved_by"], fresh.GetProperty("reader").GetString());

        JsonElement answer = await sheet.With((fresh.GetProperty("field").GetString()!, fresh.GetProperty("token").GetString())).SendAsync();
        Assert.Equal("saved", answer.GetProperty("outcome").GetString());
    }

    private async Task<int> CountAsync(string type) =>
        (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records?type=" + type)).GetProperty("items").GetArrayLength();

    private async Task SendAsync(params string[] records)
    {
        JsonElement answer = await Sending.SendAsync(_host.Admin, string.Join('\n', records), "application/x-ndjson");
        Assert.True(answer.GetProperty("accepted").GetInt32() == records.Length, answer.ToString());
    }
}
