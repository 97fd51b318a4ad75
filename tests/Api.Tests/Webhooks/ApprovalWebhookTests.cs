using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Tests.Approvals;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Webhooks;

namespace Washwear.Api.Tests.Webhooks;

/// <summary>Approvals go out as signed messages too, by the same outbox.</summary>
public sealed class ApprovalWebhookTests : IAsyncLifetime
{
    private Receiver _receiver = null!;
    private WaitingOven _oven = null!;

    public async Task InitializeAsync()
    {
        _receiver = await Receiver.StartAsync();
        _oven = await WaitingOven.StartAsync(("alert_check_minutes", "0"), ("webhook_poll_seconds", "0"), ("webhook_internal_addresses", "yes"));
    }

    public async Task DisposeAsync()
    {
        await _oven.DisposeAsync();
        await _receiver.DisposeAsync();
    }

    [Fact]
    public async Task An_approval_is_told_when_it_is_asked_for_and_when_it_is_decided_each_signed()
    {
        string secret = await PutAsync("ops", new { url = _receiver.Url });
        await _oven.SendAsync("""{"type":"approval","key":"b1","unit":"OVEN-2","asked_at":"2026-03-11T20:00:00Z","what":"Gasket","amount":40}""");
        await DeliverAsync();
        Received asked = Assert.Single(_receiver.Messages);
        Assert.True(asked.IsSignedBy(secret));
        JsonElement body = JsonDocument.Parse(asked.Text).RootElement;
        JsonElement data = body.GetProperty("data");
        Assert.Equal(
            ("approval.asked", "OVEN-2", "Gasket", 40),
            (body.GetProperty("type").GetString(), data.GetProperty("unit").GetString(), data.GetProperty("what").GetString(), data.GetProperty("amount").GetDouble()));

        // The number in the message is the one under which the approval is decided.
        await _oven.GrantAsync(data.GetProperty("id").GetInt64());
        await DeliverAsync();
        JsonElement decided = JsonDocument.Parse(_receiver.Messages.Last().Text).RootElement;
        Assert.Equal(2, _receiver.Messages.Count);
        Assert.Equal(
            ("approval.decided", "granted", "area manager"),
            (decided.GetProperty("type").GetString(), decided.GetProperty("data").GetProperty("decision").GetString(),
                decided.GetProperty("data").GetProperty("decided_by").GetString()));
    }

    [Fact]
    public async Task Only_those_who_ask_for_approvals_or_for_everything_are_told()
    {
        await PutAsync("alerts-only", new { url = _receiver.Url, kinds = new[] { "overdue" } });
        await PutAsync("approvals-only", new { url = _receiver.Url, kinds = new[] { "approval" } });
        await PutAsync("other", new { url = _receiver.Url, kinds = new[] { "approval" }, enabled = false });
        await _oven.SendAsync("""{"type":"approval","key":"b1","unit":"OVEN-2","asked_at":"2026-03-11T20:00:00Z","what":"Gasket"}""");
        await DeliverAsync();
        Assert.Single(_receiver.Messages);
    }

    [Fact]
    public async Task Duplicates_history_what_is_voided_at_once_and_what_is_held_back_tell_nothing()
    {
        await PutAsync("ops", new { url = _receiver.Url });
        await Sending.SendAsync(_oven.Host.Admin, WaitingOven.Asked("a1"));
        await _oven.SendAsync(
            """{"type":"approval","key":"old","unit":"OVEN-2","asked_at":"2026-02-01T00:00:00Z","decision":"granted","decided_at":"2026-03-04T23:00:00Z"}""",
            """{"type":"approval","key":"n1","unit":"OVEN-2","asked_at":"2026-03-11T00:00:00Z","what":"Gasket"}""",
            """{"type":"void","key":"n2","at":"2026-03-11T00:00:00Z","voids":"n1","reason":"a slip"}""");
        await Sending.SendAsync(
            _oven.Host.Admin,
            """[{"type":"approval","key":"n3","unit":"OVEN-2","asked_at":"2026-03-11T00:00:00Z"},{"type":"heartbeat","key":"n4","unit":"NO-SUCH","at":"2026-03-11T00:00:00Z"}]""",
            query: "?all_or_nothing=true");
        await DeliverAsync();
        Assert.Empty(_receiver.Messages);
    }

    private async Task<string> PutAsync(string webhook, object body)
    {
        using HttpResponseMessage put = await _oven.Host.Admin.PutAsJsonAsync("/v1/webhooks/" + webhook, body);
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());
        return (await put.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("secret").GetString()!;
    }

    private async Task DeliverAsync() => await _oven.Host.Services.GetRequiredService<WebhookSender>().RunAsync(CancellationToken.None);
}
