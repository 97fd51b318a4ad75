using System.Globalization;
using System.Text.Json;
using Washwear.Analytics.Tests;

namespace Washwear.Api.Tests.PartLife;

/// <summary>Published competing failure modes, sent in over HTTP, come back as the published figures.</summary>
public sealed class PublishedModesTests
{
    // One kilometre is sent as one hour.
    private const double KilometresPerDay = 24;

    [Fact]
    public async Task Shock_absorbers_of_two_modes_give_the_published_incidence_and_one_fit_a_mode()
    {
        PublishedCheck incidence = PublishedChecks.Get("cumulative_incidence.shock_absorbers");
        string[] modes = incidence.Rows.Text("mode");
        PublishedPart[] parts =
        [
            .. incidence.Rows.Numbers("km").Select((km, i) => modes[i] == "0"
                ? new PublishedPart(km / KilometresPerDay, "precaution")
                : new PublishedPart(km / KilometresPerDay, "failed", Mode: modes[i] == "1" ? "leaks" : "seized")),
        ];
        await using ApiHost host = await PublishedFleet.StartAsync(parts);
        JsonElement report = await PublishedFleet.GetAsync(host);

        double[] times = [.. incidence.Value("time").EnumerateArray().Select(time => time.GetDouble())];
        foreach ((string mode, string published) in new[] { ("leaks", "mode_1"), ("seized", "mode_2") })
        {
            JsonElement row = Row(report, mode);
            incidence.AssertAllClose(times.Select(time => At(row, time / KilometresPerDay, "incidence")), published, "incidence");
            incidence.AssertAllClose(times.Select(time => At(row, time / KilometresPerDay, "standard_error")), published, "se_delta");
            PublishedCheck fit = PublishedChecks.Get("weibull_by_mode.shock_absorbers");
            PublishedFleet.AssertFit(fit, row.GetProperty("weibull"), KilometresPerDay, false, published);
            JsonElement alone = await PublishedFleet.GetAsync(host, "?failure_mode=" + mode);
            PublishedFleet.AssertFit(fit, alone.GetProperty("weibull"), KilometresPerDay, false, published);
        }

        string csv = await host.Admin.GetStringAsync("/v1/part-life/wash-pump/modes?format=csv");
        string[] lines = csv.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal("failure_mode,age,failures,incidence,standard_error,lower,upper", lines[0]);
        Assert.Equal(11, lines.Length - 1);
        double last = double.Parse(lines.Last(line => line.StartsWith("leaks", StringComparison.Ordinal)).Split(',')[3], CultureInfo.InvariantCulture);
        incidence.AssertClose(incidence.Value("mode_1", "incidence")[10], last, "last line of the CSV");
    }

    [Fact]
    public async Task Melanoma_with_two_causes_gives_the_published_incidence_at_five_times()
    {
        PublishedCheck check = PublishedChecks.Get("cumulative_incidence.melanoma");
        double[] status = check.Rows.Numbers("status");
        PublishedPart[] parts =
        [
            .. check.Rows.Numbers("time").Select((days, i) => status[i] == 2
                ? new PublishedPart(days, "upgrade")
                : new PublishedPart(days, "failed", Mode: status[i] == 1 ? "leaks" : "seized")),
        ];

        JsonElement report = await PublishedFleet.ReportAsync(parts);

        double[] times = [.. check.Value("time").EnumerateArray().Select(time => time.GetDouble())];
        check.AssertAllClose(times.Select(time => At(Row(report, "leaks"), time, "incidence")), "mode_1", "incidence");
        check.AssertAllClose(times.Select(time => At(Row(report, "leaks"), time, "standard_error")), "mode_1", "se_delta");
        check.AssertAllClose(times.Select(time => At(Row(report, "seized"), time, "incidence")), "mode_2", "incidence");
        check.AssertAllClose(times.Select(time => At(Row(report, "seized"), time, "standard_error")), "mode_2", "se_delta");
        Assert.StartsWith("Leaks ends most parts", report.GetProperty("modes").GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_part_found_failed_of_another_mode_counts_as_working_up_to_its_last_look()
    {
        PublishedPart[] parts =
        [
            .. Enumerable.Range(1, 6).Select(i => new PublishedPart(100 * i, "failed", Mode: "leaks")),
            new PublishedPart(500, "found_failed", LastSeenGood: 300, Mode: "seized"),
            new PublishedPart(500, "found_failed", Mode: "Seized"),
        ];
        await using ApiHost host = await PublishedFleet.StartAsync(parts);

        JsonElement report = await PublishedFleet.GetAsync(host, "?failure_mode=LEAKS");

        Assert.Equal(7, report.GetProperty("basis").GetProperty("n").GetInt32());
        Assert.Equal(6, report.GetProperty("basis").GetProperty("failures").GetInt32());
        // Six steps; the part last seen at 300 is at risk at 300 and no more at 400: 7, 6, 5, 3, 2, 1.
        Assert.Equal([7, 6, 5, 3, 2, 1], report.GetProperty("kaplan_meier").EnumerateArray().Select(step => step.GetProperty("at_risk").GetInt32()));
        Assert.Contains(
            report.GetProperty("left_out").EnumerateArray(),
            row => row.GetProperty("count").GetInt32() == 1 && row.GetProperty("reason").GetString()!.Contains("another mode", StringComparison.Ordinal));
        JsonElement both = await PublishedFleet.GetAsync(host);
        Assert.Equal(2, Row(both, "seized").GetProperty("failures").GetInt32());
    }

    private static JsonElement Row(JsonElement report, string mode) =>
        report.GetProperty("modes").GetProperty("rows").EnumerateArray().Single(row => row.GetProperty("mode").GetString() == mode);

    // The step at or before an age; 0 before the first. Ages travel through instants of a millisecond.
    private static double At(JsonElement row, double age, string field) => row.GetProperty("incidence").EnumerateArray()
        .Where(step => step.GetProperty("age").GetDouble() <= age + 1e-7)
        .Select(step => step.GetProperty(field).GetDouble())
        .LastOrDefault();
}
