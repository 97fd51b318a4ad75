using System.Net;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Faults;

/// <summary>The clock jumps while records come in; tests/Faults moves the clock of the whole process by libfaketime.</summary>
public sealed class ClockJumpTests : IAsyncLifetime
{
    private static readonly string[] Pages = ["/", "/cleaning", "/alerts", "/planning", "/digest", "/units/OVEN-1"];
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task The_order_of_acceptance_stands_whatever_the_clock_says_and_nothing_throws()
    {
        double[] hours = [0, -2, 30, -26, 24 * 400, -24 * 90, 0];
        for (int jump = 0; jump < hours.Length; jump++)
        {
            _host.Clock.Now = ApiHost.StartsAt.AddHours(hours[jump]);
            Sending.AssertCounts(await Sending.SendAsync(_host.Admin, Sending.Wash($"w-{jump}", $"2025-10-0{jump + 1}T22:00:00Z")), accepted: 1);
            foreach (string page in Pages)
            {
                using HttpResponseMessage answer = await _host.Admin.GetAsync(page);
                Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            }
        }

        using JsonDocument taken = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/records"));
        Assert.Equal(
            Enumerable.Range(0, hours.Length).Select(jump => $"w-{jump}"),
            taken.RootElement.GetProperty("items").EnumerateArray().Select(row => row.GetProperty("key").GetString()!));
    }

    [Fact]
    public async Task A_record_that_lies_ahead_of_a_clock_set_back_is_kept_as_refused_and_taken_in_once_the_clock_is_right()
    {
        string record = Sending.Wash("now", "2026-03-02T11:00:00Z");
        _host.Clock.Now = ApiHost.StartsAt.AddDays(-3);
        Sending.AssertRefused(await Sending.SendAsync(_host.Admin, record), "at", "in_the_future");

        _host.Clock.Now = ApiHost.StartsAt;
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, record), accepted: 1);
        using JsonDocument refused = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/records/refused"));
        Assert.Equal(0, refused.RootElement.GetProperty("items").GetArrayLength());
    }
}
