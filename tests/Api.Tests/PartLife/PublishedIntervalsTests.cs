using System.Text.Json;
using Washwear.Analytics.Tests;

namespace Washwear.Api.Tests.PartLife;

/// <summary>Published lives known only between two looks, sent in as parts found failed, come back as the published figures.</summary>
public sealed class PublishedIntervalsTests
{
    private const double HoursPerDay = 24;

    [Theory]
    [InlineData("weibull_mle.nist_inspections_interval", HoursPerDay, null, null)]
    [InlineData("weibull_mle.part_cracks_interval", 1, null, "failed")]
    [InlineData("weibull_mle.generator_fans_entry_and_intervals", HoursPerDay, "entry_hours", null)]
    public async Task Parts_found_failed_give_the_published_fit_with_both_kinds_of_bounds(string id, double perDay, string? entries, string? counts)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        PublishedPart[] parts = PublishedFleet.FromIntervals(check.Rows, perDay, entries, counts);

        JsonElement report = await PublishedFleet.ReportAsync(parts, "?bounds=both");

        PublishedFleet.AssertFit(check, report.GetProperty("weibull"), perDay);
        PublishedFleet.AssertFit(check, report.GetProperty("weibull_information"), perDay, information: true);
        JsonElement figures = report.GetProperty("counts");
        Assert.Equal(parts.Count(part => part.Reason == "found_failed"), figures.GetProperty("found_failed").GetInt32());
        Assert.Equal(0, figures.GetProperty("failed").GetInt32());
        Assert.Equal(parts.Count(part => part.Entry > 0), figures.GetProperty("entered_late").GetInt32());
    }

    [Fact]
    public async Task Wheels_each_looked_at_once_give_the_published_fit()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.turbine_wheels_one_inspection_each");
        (double[] ages, double[] looked, double[] failed) =
            (check.Rows.Numbers("hours"), check.Rows.Numbers("inspected"), check.Rows.Numbers("failed"));
        PublishedPart[] parts =
        [
            .. ages.SelectMany((age, i) => Enumerable.Range(0, (int)looked[i]).Select(k =>
                new PublishedPart(age, k < failed[i] ? "found_failed" : "precaution"))),
        ];

        JsonElement report = await PublishedFleet.ReportAsync(parts);

        PublishedFleet.AssertFit(check, report.GetProperty("weibull"), 1);
        Assert.Contains("not tested", report.GetProperty("fit_quality").GetString(), StringComparison.Ordinal);
    }
}
