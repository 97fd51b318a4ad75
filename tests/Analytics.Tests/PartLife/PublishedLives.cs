using System.Text.Json;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

/// <summary>The published data sets as lives.</summary>
internal static class PublishedLives
{
    /// <summary>Lives of a check whose file has ages, a status (1 = failed) and perhaps entries, or of an inline check.</summary>
    public static Lives Of(string id) => id switch
    {
        "weibull_mle.nist_censored" => FromStatus("nist_weibull_censored.csv", "hours"),
        "weibull_mle.ball_bearings_complete" => BallBearings(),
        "weibull_mle.seven_items_two_suspensions" => Inline(PublishedChecks.Get(id).Inputs),
        "weibull_mle.generator_fans" => FromStatus("generator_fans.csv", "hours"),
        "weibull_mle.turbine_wheels_one_inspection_each" => TurbineWheels(),
        "weibull_mle.part_cracks_interval" => PartCracks(),
        "weibull_mle.nist_inspections_interval" => Intervals("nist_inspections_100h.csv", null),
        "weibull_mle.generator_fans_delayed_entry" => FromStatus("generator_fans_delayed_entry.csv", "hours", "entry_hours"),
        "weibull_mle.ball_bearings_delayed_entry" => FromStatus("ball_bearings_delayed_entry.csv", "million_revolutions", "entry"),
        "weibull_mle.generator_fans_entry_and_intervals" => Intervals("generator_fans_entry_intervals.csv", "entry_hours"),
        _ => throw new ArgumentOutOfRangeException(nameof(id), id, "No lives for this check."),
    };

    public static Lives FromStatus(string file, string ageColumn, string? entryColumn = null, Func<int, bool>? keep = null)
    {
        CsvRows rows = PublishedChecks.Csv(file);
        double[] ages = rows.Numbers(ageColumn);
        double[] status = rows.Numbers("status");
        double[] entries = entryColumn is null ? new double[ages.Length] : rows.Numbers(entryColumn);
        return FromArrays(
            ages.Where((_, i) => keep?.Invoke(i) ?? true).ToArray(),
            status.Where((_, i) => keep?.Invoke(i) ?? true).Select(s => s == 1).ToArray(),
            entries.Where((_, i) => keep?.Invoke(i) ?? true).ToArray());
    }

    public static Lives FromArrays(double[] ages, bool[] failed, double[]? entries = null)
    {
        var builder = new LivesBuilder("test clock");
        for (int i = 0; i < ages.Length; i++)
        {
            double entry = entries?[i] ?? 0;
            _ = failed[i] ? builder.FailedAt(ages[i], entry) : builder.StillRunningAt(ages[i], entry);
        }

        return builder.Build();
    }

    public static Lives Complete(params double[] ages) => FromArrays(ages, [.. ages.Select(_ => true)]);

    public static Lives BallBearings() => Complete(PublishedChecks.Csv("ball_bearings.csv").Numbers("million_revolutions"));

    public static Lives Inline(JsonElement inputs) => FromArrays(
        [.. inputs.GetProperty("time").EnumerateArray().Select(t => t.GetDouble())],
        [.. inputs.GetProperty("failed").EnumerateArray().Select(f => f.GetInt32() == 1)]);

    /// <summary>Group of a file with a column that names it.</summary>
    public static Lives Group(string file, string ageColumn, string groupColumn, string group)
    {
        string[] groups = PublishedChecks.Csv(file).Text(groupColumn);
        return FromStatus(file, ageColumn, keep: i => groups[i] == group);
    }

    private static Lives TurbineWheels()
    {
        CsvRows rows = PublishedChecks.Csv("turbine_wheels.csv");
        (double[] hours, double[] inspected, double[] failed) = (rows.Numbers("hours"), rows.Numbers("inspected"), rows.Numbers("failed"));
        var builder = new LivesBuilder("100 hours");
        for (int i = 0; i < hours.Length; i++)
        {
            for (int k = 0; k < inspected[i]; k++)
            {
                _ = k < failed[i] ? builder.FailedBetween(0, hours[i]) : builder.StillRunningAt(hours[i]);
            }
        }

        return builder.Build();
    }

    private static Lives PartCracks()
    {
        CsvRows rows = PublishedChecks.Csv("part_cracks.csv");
        (double[] lower, double?[] upper, double[] count) = (rows.Numbers("lower"), rows.NumbersOrMissing("upper"), rows.Numbers("failed"));
        var builder = new LivesBuilder("days");
        for (int i = 0; i < lower.Length; i++)
        {
            for (int k = 0; k < count[i]; k++)
            {
                _ = upper[i] is { } found ? builder.FailedBetween(lower[i], found) : builder.StillRunningAt(lower[i]);
            }
        }

        return builder.Build();
    }

    private static Lives Intervals(string file, string? entryColumn)
    {
        CsvRows rows = PublishedChecks.Csv(file);
        (double[] lower, double?[] upper) = (rows.Numbers("lower"), rows.NumbersOrMissing("upper"));
        double[] entries = entryColumn is null ? new double[lower.Length] : rows.Numbers(entryColumn);
        var builder = new LivesBuilder("hours");
        for (int i = 0; i < lower.Length; i++)
        {
            _ = upper[i] is { } found ? builder.FailedBetween(lower[i], found, entries[i]) : builder.StillRunningAt(lower[i], entries[i]);
        }

        return builder.Build();
    }
}
