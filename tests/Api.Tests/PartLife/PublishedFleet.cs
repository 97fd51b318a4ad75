using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Analytics.Tests;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.PartLife;

/// <summary>A published life as a part: ages are days.</summary>
/// <param name="End">Age at its end.</param>
/// <param name="Reason">failed, found_failed, precaution or upgrade.</param>
/// <param name="Entry">Age at which it was fitted, used.</param>
/// <param name="LastSeenGood">Age when last seen good; 0: never looked at.</param>
/// <param name="Mode">Failure mode.</param>
/// <param name="Batch">Batch.</param>
/// <param name="Model">Model of its unit.</param>
internal sealed record PublishedPart(
    double End, string Reason, double Entry = 0, double LastSeenGood = 0, string? Mode = null, string? Batch = null, string Model = "T10");

/// <summary>A host whose fleet is a published data set, sent in over HTTP: one unit a part, a fitting and a removal each.</summary>
internal static class PublishedFleet
{
    private static readonly DateTimeOffset Fitted = new(2005, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Starts a host, sends the parts and gives the report that the query asks for.</summary>
    public static async Task<JsonElement> ReportAsync(IReadOnlyList<PublishedPart> parts, string query = "")
    {
        await using ApiHost host = await StartAsync(parts);
        return await GetAsync(host, query);
    }

    /// <summary>Starts a host and sends the parts.</summary>
    public static async Task<ApiHost> StartAsync(IReadOnlyList<PublishedPart> parts)
    {
        ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        using HttpResponseMessage model = await Samples.PutAsync(host.Admin, "/v1/models/T20", Samples.Model);
        Assert.True(model.IsSuccessStatusCode);
        using HttpResponseMessage units = await host.Admin.PutAsJsonAsync("/v1/registry", new
        {
            operators = Array.Empty<object>(),
            sites = Array.Empty<object>(),
            models = Array.Empty<object>(),
            units = parts.Select((part, i) => new { unit = $"U{i}", site = "pier-4", model = part.Model, commissioned_on = "2005-01-01" }),
            rules = Array.Empty<object>(),
        });
        Assert.True(units.StatusCode == HttpStatusCode.OK, await units.Content.ReadAsStringAsync());
        using HttpResponseMessage sent = await host.Admin.PostAsJsonAsync("/v1/records", parts.SelectMany(Records));
        JsonElement answer = await sent.Content.ReadFromJsonAsync<JsonElement>();
        Assert.True(answer.GetProperty("accepted").GetInt32() == 2 * parts.Count, answer.ToString());
        return host;
    }

    /// <summary>The report on the wash pump.</summary>
    public static Task<JsonElement> GetAsync(ApiHost host, string query = "") =>
        host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump" + query);

    /// <summary>Lives with a status: 1 failed, else censored.</summary>
    public static PublishedPart[] FromStatus(CsvRows rows, string ageColumn, double perDay, string? groups = null)
    {
        double[] failed = rows.Numbers("status");
        string[]? batches = groups is null ? null : rows.Text(groups);
        return [.. rows.Numbers(ageColumn).Select((age, i) =>
            new PublishedPart(age / perDay, failed[i] == 1 ? "failed" : "precaution", Batch: batches?[i]))];
    }

    /// <summary>Failures between two looks, or working at the last; the columns lower, upper, and perhaps entries and a count.</summary>
    public static PublishedPart[] FromIntervals(CsvRows rows, double perDay, string? entryColumn = null, string? countColumn = null)
    {
        (double[] lower, double?[] upper) = (rows.Numbers("lower"), rows.NumbersOrMissing("upper"));
        double[] entries = entryColumn is null ? new double[lower.Length] : rows.Numbers(entryColumn);
        double[] counts = countColumn is null ? [.. lower.Select(_ => 1.0)] : rows.Numbers(countColumn);
        return
        [
            .. lower.SelectMany((low, i) => Enumerable.Repeat(
                upper[i] is { } found
                    ? new PublishedPart(found / perDay, "found_failed", entries[i] / perDay, low / perDay)
                    : new PublishedPart(low / perDay, "precaution", entries[i] / perDay),
                (int)counts[i])),
        ];
    }

    /// <summary>Compares fitted figures and both kinds of bounds with the published ones.</summary>
    public static void AssertFit(PublishedCheck check, JsonElement weibull, double perDay, bool information = false, params string[] path)
    {
        (string lower, string upper) = information ? ("lower_normal_log", "upper_normal_log") : ("lower_profile", "upper_profile");
        foreach ((string name, double factor) in new[] { ("shape", 1), ("scale", perDay), ("mean_life", perDay), ("b10", perDay), ("b50", perDay) })
        {
            JsonElement figure = weibull.GetProperty(name);
            check.AssertClose(figure.GetProperty("estimate").GetDouble() * factor, [.. path, name, "estimate"]);
            check.AssertClose(figure.GetProperty("lower").GetDouble() * factor, [.. path, name, lower]);
            check.AssertClose(figure.GetProperty("upper").GetDouble() * factor, [.. path, name, upper]);
        }
    }

    /// <summary>Compares Kaplan–Meier steps with the published ones.</summary>
    public static void AssertSurvival(PublishedCheck check, JsonElement report, double perDay)
    {
        JsonElement[] steps = [.. report.GetProperty("kaplan_meier").EnumerateArray()];
        check.AssertAllClose(steps.Select(step => step.GetProperty("age").GetDouble() * perDay), "time");
        check.AssertAllClose(steps.Select(step => step.GetProperty("at_risk").GetDouble()), "at_risk");
        check.AssertAllClose(steps.Select(step => step.GetProperty("survival").GetDouble()), "survival");
        check.AssertAllClose(steps.Select(step => step.GetProperty("lower").GetDouble()), "lower_loglog");
        check.AssertAllClose(steps.Select(step => step.GetProperty("upper").GetDouble()), "upper_loglog");
    }

    private static IEnumerable<object> Records(PublishedPart part, int i)
    {
        // The ledger tells milliseconds and cuts what lies below: a difference of ages must not fall short of its whole one.
        DateTimeOffset At(double age) => Fitted.AddMilliseconds(Math.Round((age - part.Entry) * 86_400_000));
        bool failed = part.Reason is "failed" or "found_failed";
        var fitted = new Dictionary<string, object?> { ["part_number"] = "P/100-2", ["batch"] = part.Batch };
        if (part.Entry > 0)
        {
            fitted["age_days"] = part.Entry;
        }

        var removed = new Dictionary<string, object?> { ["reason"] = part.Reason, ["failure_mode"] = failed ? part.Mode : null };
        if (part.LastSeenGood > part.Entry)
        {
            removed["last_seen_good_at"] = Text(At(part.LastSeenGood));
        }

        return
        [
            new { type = "part_change", key = $"in-{i}", unit = $"U{i}", at = Text(Fitted), position = "wash-pump", fitted },
            new { type = "part_change", key = $"out-{i}", unit = $"U{i}", at = Text(At(part.End)), position = "wash-pump", removed },
        ];
    }

    private static string Text(DateTimeOffset at) => at.ToString("O", CultureInfo.InvariantCulture);
}
