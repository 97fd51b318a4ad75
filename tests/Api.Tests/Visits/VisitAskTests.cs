using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Visits;

/// <summary>Somebody in the kitchen tells a fault and asks for a visit; it is Monday 2 March 2026, 13:00 in Vienna.</summary>
public sealed class VisitAskTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task A_fault_that_nobody_had_reported_is_raised_and_the_lockout_waits_for_the_technician()
    {
        Dictionary<string, string> form = await OpenAsync();
        Assert.DoesNotContain("fault", form.Keys);
        form["fault"] = "E21";
        form["since"] = "2026-03-02T09:15";
        form["note"] = "Grinding noise.\r\nBack door until 17:00.";

        string receipt = await SaveAsync(form);
        Assert.EndsWith("done=asked", receipt, StringComparison.Ordinal);
        Assert.EndsWith("done=already_saved", await SaveAsync(form), StringComparison.Ordinal);

        JsonElement unit = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");
        JsonElement fault = Assert.Single(unit.GetProperty("open_faults").EnumerateArray());
        Assert.Equal(("E21", "2026-03-02T08:15:00Z"), (fault.GetProperty("code").GetString(), fault.GetProperty("raised_at").GetString()));
        Assert.Equal("lockout_waiting_technician", await CauseAsync());
        using HttpResponseMessage page = await CloseOutSheet.ReadAsync(_host.Admin, receipt);
        string text = (await CloseOutSheet.ParseAsync(page)).Body!.TextContent;
        Assert.Contains("Nobody has come yet.", text, StringComparison.Ordinal);
        Assert.Contains("Back door until 17:00.", text, StringComparison.Ordinal);

        CloseOutSheet sheet = await CloseOutSheet.OpenAsync(_host.Admin);
        Assert.Equal((form["key"], "2026-03-02T13:00"), (sheet["replaces"], sheet["asked"]));
    }

    [Fact]
    public async Task A_fault_that_is_open_is_not_raised_again_and_one_tap_is_enough()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f0","unit":"OVEN-1","at":"2026-03-01T20:00:00Z","code":"E21"}""");
        Dictionary<string, string> form = await OpenAsync();
        Assert.Equal("E21", form["fault"]);
        await SaveAsync(form);
        JsonElement faults = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1/history");
        Assert.Single(faults.GetProperty("items").EnumerateArray(), item => item.GetProperty("type").GetString() == "fault");
    }

    [Fact]
    public async Task A_close_out_withdrawn_leaves_the_visit_asked_for_that_nobody_has_made_then()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f0","unit":"OVEN-1","at":"2026-03-01T20:00:00Z","code":"E21"}""");
        Dictionary<string, string> form = await OpenAsync();
        form["note"] = "Grinding noise.";
        await SaveAsync(form);
        CloseOutSheet wrong = (await CloseOutSheet.OpenAsync(_host.Admin)).With(("outcome", "no_fault_found"));
        await wrong.SendAsync();
        CloseOutSheet still = (await CloseOutSheet.OpenAsync(_host.Admin, "unit=OVEN-1&corrects=" + wrong.Key)).With(("note", "Still the wrong oven."));
        await still.SendAsync();
        Assert.Equal("lockout_no_visit_asked", await CauseAsync());

        using var body = new FormUrlEncodedContent([new("__RequestVerificationToken", wrong["__RequestVerificationToken"]!), new("reason", "It was the oven beside it.")]);
        using HttpResponseMessage answer = await _host.Admin.PostAsync($"/visits/{still.Key}/withdrawal", body);
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);

        Assert.Equal("lockout_waiting_technician", await CauseAsync());
        CloseOutSheet next = await CloseOutSheet.OpenAsync(_host.Admin);
        Assert.Equal(("2026-03-02T13:00", still.Key + "/asked"), (next["asked"], next["replaces"]));
        JsonElement asked = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/visits/" + Uri.EscapeDataString(still.Key + "/asked"));
        Assert.Equal("Grinding noise.", asked.GetProperty("note").GetString());
    }

    [Theory]
    [InlineData("fault", null, "missing")]
    [InlineData("since", "2027-01-01T00:00", "in_the_future")]
    [InlineData("since", "yesterday", "instant")]
    [InlineData("key", "short", "key")]
    [InlineData("saved_by", "somebody else", "another_person")]
    public async Task What_cannot_be_is_told_with_what_was_entered_kept(string field, string? value, string rule)
    {
        Dictionary<string, string> form = await OpenAsync();
        form["fault"] = "E21";
        form.Remove(field);
        if (value is not null)
        {
            form[field] = value;
        }

        using HttpResponseMessage answer = await PostAsync(_host.Admin, form);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        IHtmlDocument page = await CloseOutSheet.ParseAsync(answer);
        Assert.NotNull(page.QuerySelector($"[data-rule='{rule}']"));
        Assert.Equal(field != "fault", page.QuerySelector<IHtmlInputElement>("input[name=fault][value=E21]")!.IsChecked);
        JsonElement unit = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");
        Assert.Empty(unit.GetProperty("open_faults").EnumerateArray());
    }

    [Fact]
    public async Task Who_may_only_read_is_told_so_and_an_unknown_unit_is_none()
    {
        using HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage form = await CloseOutSheet.ReadAsync(reader, "/units/OVEN-1/ask");
        Assert.NotNull((await CloseOutSheet.ParseAsync(form)).QuerySelector("button[disabled]"));
        using HttpResponseMessage refused = await PostAsync(reader, await OpenAsync());
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        using HttpResponseMessage none = await CloseOutSheet.ReadAsync(_host.Admin, "/units/OVEN-99/ask");
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
    }

    private static async Task<HttpResponseMessage> PostAsync(HttpClient client, Dictionary<string, string> form)
    {
        using var body = new FormUrlEncodedContent(form);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/units/OVEN-1/ask") { Content = body };
        request.Headers.Add("Accept", "text/html");
        return await client.SendAsync(request);
    }

    private async Task<Dictionary<string, string>> OpenAsync()
    {
        using HttpResponseMessage answer = await CloseOutSheet.ReadAsync(_host.Admin, "/units/OVEN-1/ask");
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        IHtmlFormElement form = (await CloseOutSheet.ParseAsync(answer)).QuerySelector<IHtmlFormElement>("form[action='/units/OVEN-1/ask']")!;
        return form.QuerySelectorAll<IHtmlInputElement>("input[name]").Where(input => input.Type != "checkbox" || input.IsChecked)
            .ToDictionary(input => input.Name!, input => input.Value);
    }

    private async Task<string?> CauseAsync() =>
        (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status?unit=OVEN-1")).GetProperty("rows")[0].GetProperty("cause").GetString();

    private async Task<string> SaveAsync(Dictionary<string, string> form)
    {
        using HttpResponseMessage answer = await PostAsync(_host.Admin, form);
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        return answer.Headers.Location!.OriginalString;
    }
}
