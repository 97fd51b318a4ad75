using System.Net;
using System.Text.Json;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Visits;

/// <summary>What other records say against a visit is told with it, and nothing is lost for it.</summary>
public sealed class VisitDoubtTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Theory]
    [InlineData("2026-03-02T10:00:00+01:00", "standard", "completed", "", null)]
    [InlineData("2026-03-02T10:00:00+01:00", "standard", "stopped_by_person", "", "begun Mon 2 Mar 2026, 10:00, did not")]
    [InlineData("2026-03-02T10:00:00+01:00", "light", "completed", "", "of a lower grade than its rule asks for")]
    [InlineData("2026-03-02T10:00:00+01:00", "standard", "completed", ",\"detergent_left\":true", "some was found left after the wash")]
    [InlineData("2026-03-02T11:45:00+01:00", "standard", "stopped_by_fault", "", "a fault stopped the next one, begun Mon 2 Mar 2026, 11:45")]
    [InlineData("2026-03-02T11:45:00+01:00", "standard", "refused", "", "it refused the next one")]
    [InlineData("2026-03-02T11:45:00+01:00", "standard", "stopped_by_person", "", null)]
    [InlineData("2026-03-02T08:00:00+01:00", "standard", "stopped_by_fault", "", null)]
    public async Task A_proof_that_the_units_own_washes_contradict_is_doubted(string at, string grade, string outcome, string more, string? doubt)
    {
        CloseOutSheet sheet = (await CloseOutSheet.OpenAsync(_host.Admin)).WithProofs().With(
            ("arrived", "2026-03-02T09:00"), ("left", "2026-03-02T11:30"), ("outcome", "proven"));
        await sheet.SendAsync();
        Assert.Empty(Doubts(await sheet.VisitAsync()));
        string end = outcome == "refused" ? "" : ",\"ended_at\":\"" + at.Replace(":00+", ":20+", StringComparison.Ordinal) + "\"";
        JsonElement taken = await Sending.SendAsync(
            _host.Admin, $$"""{"type":"wash","key":"w","unit":"OVEN-1","at":"{{at}}","grade":"{{grade}}","outcome":"{{outcome}}"{{end}}{{more}}}""");
        Assert.Equal(1, taken.GetProperty("accepted").GetInt32());

        JsonElement visit = await sheet.VisitAsync();
        if (doubt is null)
        {
            Assert.Empty(Doubts(visit));
        }
        else
        {
            Assert.Contains(doubt, Assert.Single(Doubts(visit)), StringComparison.Ordinal);
            using HttpResponseMessage page = await CloseOutSheet.ReadAsync(_host.Admin, "/units/OVEN-1");
            Assert.Contains(doubt, (await CloseOutSheet.ParseAsync(page)).Body!.TextContent, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Two_technicians_who_close_the_same_visit_are_both_kept_and_each_receipt_shows_the_other()
    {
        HttpClient first = await _host.ClientAsync(Abilities.Read | Abilities.Work, "tech 1");
        HttpClient second = await _host.ClientAsync(Abilities.Read | Abilities.Work, "tech 2");
        CloseOutSheet one = (await CloseOutSheet.OpenAsync(first)).With(("arrived", "2026-03-02T09:00"), ("left", "2026-03-02T10:30"), ("outcome", "waiting_part"));
        CloseOutSheet two = (await CloseOutSheet.OpenAsync(second)).With(("arrived", "2026-03-02T09:20"), ("left", "2026-03-02T11:00"), ("outcome", "no_fault_found"));
        CloseOutSheet later = (await CloseOutSheet.OpenAsync(second)).With(("arrived", "2026-03-02T11:01"), ("left", "2026-03-02T11:30"), ("outcome", "no_fault_found"));
        await one.SendAsync();
        await two.SendAsync();
        await later.SendAsync();

        JsonElement ofOne = await one.VisitAsync();
        Assert.Contains("by tech 2, begun Mon 2 Mar 2026, 09:20", Assert.Single(Doubts(ofOne)), StringComparison.Ordinal);
        Assert.Equal(two.Key, Assert.Single(ofOne.GetProperty("others").EnumerateArray()).GetProperty("key").GetString());
        Assert.Contains("by tech 1", Assert.Single(Doubts(await two.VisitAsync())), StringComparison.Ordinal);
        Assert.Empty(Doubts(await later.VisitAsync()));

        using HttpResponseMessage receipt = await CloseOutSheet.ReadAsync(first, "/visits/" + one.Key);
        Assert.Equal(HttpStatusCode.OK, receipt.StatusCode);
        Assert.NotNull((await CloseOutSheet.ParseAsync(receipt)).QuerySelector($"a[href='/visits/{two.Key}?source=tech%202']"));
    }

    private static string[] Doubts(JsonElement visit) =>
        [.. visit.GetProperty("basis").GetProperty("doubts").EnumerateArray().Select(doubt => doubt.GetString()!)];
}
