using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Analytics.Tests;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.PartLife;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.VisitSheets;

/// <summary>The age of the fitted part against a published life curve: NIST's censored Weibull example, hours taken as days.</summary>
public sealed class SheetHazardTests
{
    private const double Age = 500;

    [Fact]
    public async Task A_cause_weighs_by_the_hazard_of_the_fitted_part_over_the_mean_of_the_fleet()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.nist_censored");
        PublishedPart[] parts = [.. PublishedFleet.FromStatus(check.Rows, "hours", 1)];
        PublishedPart stillFitted = parts.Last(part => part.Reason == "precaution" && part.End == Age);
        await using ApiHost host = await PublishedFleet.StartAsync([.. parts.Where(part => !ReferenceEquals(part, stillFitted))]);
        using HttpResponseMessage unit = await Samples.PutAsync(host.Admin, "/v1/units/HERE", """{"site":"pier-4","model":"T10","commissioned_on":"2005-01-01"}""");
        Assert.True(unit.IsSuccessStatusCode);
        string fitted = ApiHost.StartsAt.AddDays(-Age).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'",
            System.Globalization.CultureInfo.InvariantCulture);
        await Sending.SendAsync(host.Admin, $$"""
            [{"type":"part_change","key":"in","unit":"HERE","at":"{{fitted}}","position":"wash-pump","fitted":{ "part_number":"P/100-2" } },
             {"type":"fault","key":"f","unit":"HERE","at":"2026-03-02T11:59:00Z","code":"E21"}]
            """);

        JsonElement cause = (await host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/HERE/visit-sheet"))
            .GetProperty("diagnosis").GetProperty("causes")[0];

        // Hazard at 500 under the published curve over failures per day watched; prior weight 3 against 0.5 for something else.
        double shape = check.Value("shape", "estimate").GetDouble();
        double scale = check.Value("scale", "estimate").GetDouble();
        double mean = parts.Count(part => part.Reason == "failed") / parts.Sum(part => part.End);
        double factor = shape / scale * Math.Pow(Age / scale, shape - 1) / mean;
        Assert.Equal(factor, cause.GetProperty("hazard_factor").GetDouble(), factor * 1e-5);
        Assert.Equal(3 * factor / ((3 * factor) + 0.5), cause.GetProperty("probability").GetDouble(), 1e-5);

        // Half have failed by scale x (ln 2)^(1/shape).
        double half = Math.Round(scale * Math.Pow(Math.Log(2), 1 / shape));
        Assert.Contains(
            $"and this wash pump is already 500 days old (half have failed by {half})", cause.GetProperty("sentence").GetString(),
                StringComparison.Ordinal);
    }
}
