using System.Text.Json;
using Washwear.Analytics.Tests;

namespace Washwear.Api.Tests.PartLife;

/// <summary>Few failures: lower bounds at a given shape, its source named.</summary>
public sealed class PublishedFewFailuresTests
{
    private const double HoursPerDay = 24;

    [Theory]
    [InlineData("0.9", "conf_0.90")]
    [InlineData("0.95", "conf_0.95")]
    public async Task No_failure_at_a_shape_entered_by_the_user_gives_the_published_bounds(string level, string published)
    {
        PublishedCheck check = PublishedChecks.Get("fixed_shape.zero_failures");
        PublishedPart[] parts = [.. Inline(check, "running_times").Select(age => new PublishedPart(age, "precaution"))];

        JsonElement report = await PublishedFleet.ReportAsync(parts, "?shape=2&level=" + level);

        AssertBounds(check, report, 1, published);
        Assert.Equal(JsonValueKind.Null, report.GetProperty("weibull").ValueKind);
        Assert.Equal("entered_by_user", report.GetProperty("fixed_shape").GetProperty("source").GetString());
        Assert.Contains("entered by the user", report.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1.5", "shape_1.5")]
    [InlineData("2", "shape_2")]
    [InlineData("3", "shape_3")]
    public async Task One_failure_at_three_shapes_gives_the_published_bounds(string shape, string published)
    {
        PublishedCheck check = PublishedChecks.Get("fixed_shape.one_failure");
        double[] failed = Inline(check, "failed");
        PublishedPart[] parts = [.. Inline(check, "times").Select((age, i) => new PublishedPart(age, failed[i] == 1 ? "failed" : "upgrade"))];

        JsonElement report = await PublishedFleet.ReportAsync(parts, $"?shape={shape}&level=0.9");

        AssertBounds(check, report, 1, published);
    }

    [Theory]
    [InlineData("1", "shape_1")]
    [InlineData("1.5", "shape_1.5")]
    public async Task Generator_fans_at_a_given_shape_give_the_published_bounds_beside_the_fit(string shape, string published)
    {
        PublishedCheck check = PublishedChecks.Get("fixed_shape.generator_fans");
        PublishedPart[] parts = PublishedFleet.FromStatus(check.Rows, "hours", HoursPerDay);

        JsonElement report = await PublishedFleet.ReportAsync(parts, "?shape=" + shape);

        AssertBounds(check, report, HoursPerDay, published);
        PublishedFleet.AssertFit(PublishedChecks.Get("weibull_mle.generator_fans"), report.GetProperty("weibull"), HoursPerDay);
    }

    [Fact]
    public async Task A_model_with_too_few_failures_borrows_the_shape_of_the_whole_fleet_with_its_bounds_and_says_so()
    {
        PublishedCheck fleet = PublishedChecks.Get("weibull_mle.generator_fans");
        PublishedPart[] parts = PublishedFleet.FromStatus(fleet.Rows, "hours", HoursPerDay);
        PublishedPart[] mixed = [.. parts.Select((part, i) => part with { Model = i < 3 ? "T20" : "T10" })];
        await using ApiHost host = await PublishedFleet.StartAsync(mixed);

        JsonElement report = await PublishedFleet.GetAsync(host, "?model=T20");

        Assert.Equal(JsonValueKind.Null, report.GetProperty("weibull").ValueKind);
        JsonElement bounds = report.GetProperty("fixed_shape");
        Assert.Equal("fleet_of_same_position", bounds.GetProperty("source").GetString());
        fleet.AssertClose(bounds.GetProperty("shape").GetDouble(), "shape", "estimate");
        fleet.AssertClose(bounds.GetProperty("shape_lower").GetDouble(), "shape", "lower_profile");
        fleet.AssertClose(bounds.GetProperty("shape_upper").GetDouble(), "shape", "upper_profile");
        Assert.Contains("the fleet's parts at the same position", report.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal(3, bounds.GetProperty("doubts").GetArrayLength() + 1);
    }

    [Theory]
    [InlineData("?shape=0")]
    [InlineData("?shape=101")]
    [InlineData("?shape=x")]
    [InlineData("?at=-1")]
    [InlineData("?at=1,zwei")]
    [InlineData("?group=B1")]
    [InlineData("?bounds=wide")]
    [InlineData("?by=colour")]
    public async Task A_question_that_cannot_be_is_answered_with_what_to_mend(string query)
    {
        await using ApiHost host = await PublishedFleet.StartAsync([new PublishedPart(100, "failed")]);
        using HttpResponseMessage answer = await host.Admin.GetAsync(new Uri("/v1/part-life/wash-pump" + query, UriKind.Relative));
        Assert.Equal(400, (int)answer.StatusCode);
        Assert.Contains("mend", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static void AssertBounds(PublishedCheck check, JsonElement report, double perDay, string published)
    {
        JsonElement bounds = report.GetProperty("fixed_shape");
        check.AssertClose(bounds.GetProperty("scale_lower").GetDouble() * perDay, published, "scale_lower");
        check.AssertClose(bounds.GetProperty("b10_lower").GetDouble() * perDay, published, "b10_lower");
        check.AssertClose(bounds.GetProperty("mean_life_lower").GetDouble() * perDay, published, "mean_life_lower");
        double shape = bounds.GetProperty("shape").GetDouble();
        check.AssertClose(bounds.GetProperty("sum_of_powered_ages").GetDouble() * Math.Pow(perDay, shape), published, "sum_t_to_shape");
        JsonElement scale = bounds.GetProperty("scale");
        check.AssertClose(scale.ValueKind == JsonValueKind.Null ? null : scale.GetDouble() * perDay, published, "scale_mle");
    }

    private static double[] Inline(PublishedCheck check, string name) =>
        [.. check.Inputs.GetProperty(name).EnumerateArray().Select(value => value.GetDouble())];
}
