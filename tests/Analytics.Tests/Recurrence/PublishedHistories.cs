using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

/// <summary>The published sets of repairs as histories.</summary>
internal static class PublishedHistories
{
    /// <summary>Valve seats: a row with status 1 is a replacement, the one with status 0 ends the engine's record.</summary>
    public static EventHistory[] ValveSeats() => [.. ValveSeatsById().Select(p => p.History)];

    /// <summary>Valve seats with the engine's number.</summary>
    public static (int Id, EventHistory History)[] ValveSeatsById()
    {
        CsvRows rows = PublishedChecks.Csv("valve_seats.csv");
        (double[] ids, double[] times, double[] status) = (rows.Numbers("id"), rows.Numbers("time"), rows.Numbers("status"));
        return
        [
            .. Enumerable.Range(0, rows.Count).GroupBy(i => ids[i]).Select(unit => ((int)unit.Key, new EventHistory(
                0,
                unit.Where(i => status[i] == 0).Max(i => times[i]),
                [.. unit.Where(i => status[i] == 1).Select(i => times[i]).Order()]))),
        ];
    }

    /// <summary>Repairs of one system, observed to 1500 h.</summary>
    public static EventHistory NistCase1() => new(0, 1500, PublishedChecks.Csv("nist_repairs_case1.csv").Numbers("age_hours"));

    /// <summary>Failures of one system, observed to 300 h.</summary>
    public static EventHistory GrowthTest() => new(0, 300, PublishedChecks.Csv("growth_test_27.csv").Numbers("test_hours"));

    /// <summary>Failures of one system, stopped at the last one.</summary>
    public static EventHistory AircraftGenerator()
    {
        double[] hours = PublishedChecks.Csv("aircraft_generator.csv").Numbers("hours");
        return new EventHistory(0, hours[^1], hours);
    }

    /// <summary>Three systems, each observed to 200 h.</summary>
    public static EventHistory[] ThreeSystems()
    {
        CsvRows rows = PublishedChecks.Csv("three_systems.csv");
        return
        [
            .. rows.Text("system").Zip(rows.Numbers("hours")).GroupBy(p => p.First)
                .Select(g => new EventHistory(0, 200, [.. g.Select(p => p.Second).Order()])),
        ];
    }
}
