using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Analytics.Tests;

namespace Washwear.Api.Tests.Failures;

/// <summary>Published data of failures that recur, sent in over HTTP, come back as the published figures.</summary>
public sealed class PublishedFailuresTests
{
    // The product tells rates by the year of 365.25 days.
    private const double ThousandHoursPerYear = 365.25 * 24 / 1000;

    [Fact]
    public async Task Valve_seats_replaced_on_41_engines_give_the_published_mean_cumulative_function()
    {
        PublishedCheck check = PublishedChecks.Get("mcf.valve_seats");
        (string[] id, double[] days, double[] status) = (check.Rows.Text("id"), check.Rows.Numbers("time"), check.Rows.Numbers("status"));
        RecurringUnit[] engines =
        [
            .. Enumerable.Range(0, id.Length).GroupBy(i => id[i]).Select(rows => new RecurringUnit(
                "E" + rows.Key, days[rows.Single(i => status[i] == 0)], [.. rows.Where(i => status[i] == 1).Select(i => days[i])])),
        ];
        await using ApiHost host = await RecurringFleet.StartAsync(engines);

        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/failures/recurrence?of=parts&position=wash-pump&site=harbour-1");

        JsonElement[] steps = [.. Assert.Single(report.GetProperty("groups").EnumerateArray()).GetProperty("steps").EnumerateArray()];
        foreach ((string ours, string published) in new[]
        {
            ("day", "age"), ("at_risk", "at_risk"), ("failures", "events"), ("mean", "mcf"), ("lower", "lower_log"), ("upper", "upper_log"),
        })
        {
            check.AssertAllClose(steps.Select(step => step.GetProperty(ours).GetDouble()), published);
        }

        Assert.Equal(41, report.GetProperty("basis").GetProperty("n").GetInt32());
        Assert.Equal(48, report.GetProperty("basis").GetProperty("failures").GetInt32());
    }

    [Fact]
    public async Task Ten_pumps_of_a_power_plant_give_the_published_shrunken_rates()
    {
        PublishedCheck check = PublishedChecks.Get("empirical_bayes.power_plant_pumps");
        (double[] failures, double[] thousandHours) = (check.Rows.Numbers("failures"), check.Rows.Numbers("thousand_hours"));
        RecurringUnit[] pumps =
        [
            .. failures.Select((count, i) =>
            {
                double days = thousandHours[i] * 1000 / 24;

                // The data tell counts alone: the failures stand evenly over the last nine tenths of the watch.
                double watchEnds = Math.Ceiling(days);
                return new RecurringUnit($"P{i + 1}", days, [.. Enumerable.Range(1, (int)count).Select(k => watchEnds - (days * 0.9 * k / (count + 1)))]);
            }),
        ];

        await using ApiHost host = await RecurringFleet.StartAsync([.. pumps.Select(pump => pump with { Ages = [.. pump.Ages.Order()] })]);

        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/failures/rates?of=parts&position=wash-pump&site=harbour-1&by=unit&from=2008-01-01");

        Dictionary<string, JsonElement> rows = report.GetProperty("rows").EnumerateArray().ToDictionary(row => row.GetProperty("code").GetString()!);
        Assert.Equal(10, rows.Count);
        for (int i = 0; i < pumps.Length; i++)
        {
            JsonElement row = rows[pumps[i].Unit];

            double PerThousandHours(string name) => row.GetProperty("shrunken").GetProperty(name).GetDouble() / ThousandHoursPerYear;
            JsonElement pump = check.Value("pumps")[i];
            check.AssertClose(pump.GetProperty("posterior_mean"), PerThousandHours("estimate"), "posterior_mean");
            check.AssertClose(pump.GetProperty("lower_95"), PerThousandHours("lower"), "lower_95");
            check.AssertClose(pump.GetProperty("upper_95"), PerThousandHours("upper"), "upper_95");
            double raw = row.GetProperty("figures").GetProperty("per_unit_year").GetProperty("estimate").GetDouble();
            check.AssertClose(pump.GetProperty("raw_rate"), raw / ThousandHoursPerYear, "raw_rate");
        }
    }
}
