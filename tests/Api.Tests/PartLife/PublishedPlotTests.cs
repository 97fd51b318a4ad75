using System.Text.Json;
using Washwear.Analytics.Tests;

namespace Washwear.Api.Tests.PartLife;

/// <summary>What stands beside the plots: ranks, straight lines, survival at ages, the test of the fit.</summary>
public sealed class PublishedPlotTests
{
    private const double HoursPerDay = 24;

    [Theory]
    [InlineData("rank_regression.generator_fans", "hours", HoursPerDay)]
    [InlineData("rank_regression.nist_censored", "hours", HoursPerDay)]
    public async Task Points_and_lines_of_the_probability_plot_are_the_published_ones(string id, string column, double perDay)
    {
        PublishedCheck check = PublishedChecks.Get(id);

        JsonElement report = await PublishedFleet.ReportAsync(PublishedFleet.FromStatus(check.Rows, column, perDay));

        JsonElement[] points = [.. report.GetProperty("plotting_points").EnumerateArray()];
        check.AssertAllClose(points.Select(point => point.GetProperty("age").GetDouble() * perDay), "time");
        check.AssertAllClose(points.Select(point => point.GetProperty("adjusted_rank").GetDouble()), "adjusted_rank");
        check.AssertAllClose(points.Select(point => point.GetProperty("probability").GetDouble()), "median_rank");
        JsonElement lines = report.GetProperty("rank_regression");
        foreach ((string line, string published) in new[] { ("age_on_rank", "x_on_y"), ("rank_on_age", "y_on_x") })
        {
            check.AssertClose(lines.GetProperty(line).GetProperty("shape").GetDouble(), published, "shape");
            check.AssertClose(lines.GetProperty(line).GetProperty("scale").GetDouble() * perDay, published, "scale");
        }

        check.AssertClose(lines.GetProperty("r_squared").GetDouble(), "r_squared");
    }

    [Theory]
    [InlineData("anderson_darling.ball_bearings", "Nothing speaks against the model")]
    [InlineData("anderson_darling.poor_fit", "fits these lives poorly")]
    public async Task Complete_lives_are_tested_by_the_published_statistic(string id, string finding)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        double[] lives = check.DataFile == "inline"
            ? [.. check.Inputs.GetProperty("lives").EnumerateArray().Select(life => life.GetDouble())]
            : check.Rows.Numbers("million_revolutions");

        JsonElement report = await PublishedFleet.ReportAsync([.. lives.Select(life => new PublishedPart(life, "failed"))]);

        JsonElement test = report.GetProperty("fit_test");
        check.AssertClose(test.GetProperty("statistic").GetDouble(), "a_squared");
        check.AssertClose(test.GetProperty("adjusted_statistic").GetDouble(), "adjusted");
        check.AssertClose(test.GetProperty("p_value").GetDouble(), "p_approx");
        Assert.Contains(finding, report.GetProperty("fit_quality").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Survival_at_ages_asked_for_has_the_published_value_and_bounds_of_both_kinds()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.generator_fans");
        JsonElement published = check.Value("survival_at");
        double[] ages = [.. published.EnumerateArray().Select(row => row.GetProperty("time").GetDouble())];
        PublishedPart[] parts = PublishedFleet.FromStatus(check.Rows, "hours", HoursPerDay);
        string asked = string.Join(',', ages.Select(age => (age / HoursPerDay).ToString("R", System.Globalization.CultureInfo.InvariantCulture)));

        JsonElement report = await PublishedFleet.ReportAsync(parts, $"?bounds=both&at={asked}");

        JsonElement[] rows = [.. report.GetProperty("survival_at").EnumerateArray()];
        Assert.Equal(ages.Length, rows.Length);
        for (int i = 0; i < rows.Length; i++)
        {
            JsonElement information = rows[i].GetProperty("fitted_information");
            check.AssertClose(published[i].GetProperty("survival"), rows[i].GetProperty("fitted").GetProperty("estimate").GetDouble(), "survival");
            check.AssertClose(published[i].GetProperty("lower_loglog"), information.GetProperty("lower").GetDouble(), "lower");
            check.AssertClose(published[i].GetProperty("upper_loglog"), information.GetProperty("upper").GetDouble(), "upper");
        }

        // Seen without a model: the Kaplan–Meier step before 5000 h, which is the one at 4600 h.
        PublishedCheck seen = PublishedChecks.Get("kaplan_meier.generator_fans");
        int step = seen.Value("time").EnumerateArray().TakeWhile(time => time.GetDouble() <= ages[0]).Count() - 1;
        seen.AssertClose(seen.Value("survival")[step], rows[0].GetProperty("seen").GetProperty("estimate").GetDouble(), "seen");
    }
}
