using System.Text.Json;
using Washwear.Api.Tests.Operation;
using Washwear.Api.Tests.Planning;

namespace Washwear.Api.Tests.Memories;

/// <summary>A fleet that counts as large, beside the same one that does not: same records, same answers.</summary>
public sealed class LargeFleetTests : IAsyncLifetime
{
    private ApiHost _small = null!;
    private ApiHost _large = null!;

    public async Task InitializeAsync()
    {
        _small = await PlannedFleet.StartAsync([100, 700, 2000, 2000]);
        _large = await ApiHost.StartAsync(PlannedFleet.Now, ("database", _small.Database.File), ("lag_from_units", "1"));
    }

    public async Task DisposeAsync()
    {
        await _large.DisposeAsync();
        await _small.DisposeAsync();
    }

    [Theory]
    [InlineData("/v1/part-life/wash-pump?by=part_number&at=365,730")]
    [InlineData("/v1/part-life/wash-pump/modes")]
    [InlineData("/v1/part-life/WASH-PUMP/lives?limit=1000")]
    [InlineData("/v1/plan/visits")]
    [InlineData("/v1/plan/failures?days=90&by=site")]
    [InlineData("/v1/plan/failures/parts")]
    [InlineData("/v1/plan/calibration")]
    [InlineData("/v1/repairs/quality")]
    [InlineData("/v1/repairs/delays?by=site")]
    [InlineData("/v1/failures/trend")]
    public async Task It_answers_word_by_word_like_a_small_one(string question)
    {
        string small = await _small.Admin.GetStringAsync(question);
        Assert.Equal(small, await _large.Admin.GetStringAsync(question));
        Assert.Equal(small, await _large.Admin.GetStringAsync(question));
    }

    [Theory]
    [InlineData("plan")]
    [InlineData("repairs")]
    [InlineData("delays")]
    public async Task What_is_dear_is_worked_out_when_it_begins_to_serve_before_anybody_asks(string what) => await Until.TrueAsync(
        async () => Exposition.Read(await _large.Admin.GetStringAsync("/metrics")).Sum("washwear_derive_duration_seconds_count", $"what=\"{what}\"") > 0,
        what + " is made");

    [Fact]
    public async Task A_decision_is_seen_at_once()
    {
        Assert.Contains(await PlannedFleet.JobsAsync(_large), job => job.Unit == "P-2");
        using HttpResponseMessage answer = await PlannedFleet.DecideAsync(
            _large, """{"unit":"P-2","position":"wash-pump","decision":"rejected","by":"Planner","reason":"leaves"}""");
        Assert.True(answer.IsSuccessStatusCode);
        Assert.DoesNotContain(await PlannedFleet.JobsAsync(_large), job => job.Unit == "P-2");
    }

    [Fact]
    public async Task A_position_that_nobody_knows_is_not_found()
    {
        using HttpResponseMessage answer = await _large.Admin.GetAsync("/v1/part-life/nothing");
        Assert.Equal(System.Net.HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task A_failure_mode_that_nothing_failed_of_is_refused_each_time()
    {
        for (int i = 0; i < 2; i++)
        {
            using HttpResponseMessage answer = await _large.Admin.GetAsync("/v1/part-life/wash-pump?failure_mode=none-such");
            JsonElement problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement;
            Assert.Equal(400, problem.GetProperty("status").GetInt32());
        }
    }
}
