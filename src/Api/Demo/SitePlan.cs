using System.Globalization;
using NodaTime;
using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>A time in which a site's gateway sent nothing. Buffered: what happened then arrives afterwards; else it is lost.</summary>
internal readonly record struct Silence(DateTimeOffset From, DateTimeOffset To, bool Buffered);

/// <summary>One invented kitchen: its calendar, its water, its people and its gateway.</summary>
internal sealed record SitePlan(
    int Index, string Code, int Operator, string Name, Names.RegionName Region, double HardnessMgPerL, KitchenHours Hours,
    CrewHabits Habits, IReadOnlyList<Silence> Silences)
{
    private static readonly (double Closes, int DayEnds, DayOfWeek[] Closed)[][] HoursByOperator =
    [
        [
            (15.5, 0, [DayOfWeek.Saturday, DayOfWeek.Sunday]), (20.5, 0, [DayOfWeek.Sunday]),
            (19.5, 0, [DayOfWeek.Saturday, DayOfWeek.Sunday]),
        ],
        [(23, 4, []), (24.5, 4, [DayOfWeek.Monday]), (22.5, 3, [])],
        [(18, 0, []), (17, 0, [DayOfWeek.Sunday]), (19, 0, [])],
    ];

    private static readonly string[] WeekdayCodes = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"];

    internal static SitePlan Draw(int seed, int index, SimulationWindow window)
    {
        Random random = Chance.For(seed, Chance.Stream.Site, index);
        int operatorIndex = new[] { 0, 0, 1, 1, 2, 0 }[index % 6];
        Names.RegionName region = Names.Regions[index / 2 % Names.Regions.Length];
        return new SitePlan(
            index, Names.Site(index), operatorIndex,
            string.Create(CultureInfo.InvariantCulture, $"{Names.Operators[operatorIndex].SiteWord} {index + 1}, {region.Name}"),
            region, Math.Round(Math.Clamp(random.About(190, 0.45), 40, 600)), DrawHours(random, operatorIndex, region, index, window),
            CrewHabits.Draw(random, operatorIndex), [.. DrawSilences(random, index, window)]);
    }

    internal SiteResource Resource() => new(
        Code, Names.Operators[Operator].Code, Name, Region.TimeZone, Region.Name, Region.StockPoint, HardnessMgPerL,
        new TradingDaysResource(
            [.. TradedWeekdays().Select(Weekday)],
            string.Create(CultureInfo.InvariantCulture, $"{Hours.DayEndsAtHours:00}:00")),
        [.. Hours.Closures.Select(closure => new ClosureResource(closure.From, closure.To, closure.Reason))]);

    private IEnumerable<DayOfWeek> TradedWeekdays() =>
        Enumerable.Range(1, 7).Select(day => (DayOfWeek)(day % 7)).Where(day => !Hours.ClosedWeekdays.Contains(day));

    private static KitchenHours DrawHours(Random random, int operatorIndex, Names.RegionName region, int index, SimulationWindow window)
    {
        var hours = random.OneOf(HoursByOperator[operatorIndex]);
        return new KitchenHours(
            DateTimeZoneProviders.Tzdb[region.TimeZone], hours.Closed, hours.Closes, hours.DayEnds,
            [.. DrawClosures(random, operatorIndex, index, window)]);
    }

    private static IEnumerable<(DateOnly From, DateOnly To, string Reason)> DrawClosures(
        Random random, int operatorIndex, int index, SimulationWindow window)
    {
        int summerStart = random.Next(12, 26);
        for (int year = window.RecordsBegin.Year; year <= window.AsOf.Year; year++)
        {
            if (operatorIndex == 0)
            {
                yield return (new DateOnly(year, 7, summerStart), new DateOnly(year, 7, summerStart).AddDays(13), "summer closure");
            }

            yield return (new DateOnly(year, 12, 24), new DateOnly(year, 12, 26), "winter holidays");
        }

        if (Staging.IsClosed(index, window.StageTheEnd))
        {
            DateOnly today = DateOnly.FromDateTime(window.AsOf.UtcDateTime);
            yield return (today.AddDays(-3), today.AddDays(6), "kitchen being rebuilt");
        }
    }

    private static IEnumerable<Silence> DrawSilences(Random random, int index, SimulationWindow window)
    {
        const double MeanDaysBetween = 500;
        DateTimeOffset at = window.RecordsBegin.AddDays(-MeanDaysBetween * Math.Log(1 - random.NextDouble()));
        while (at < window.AsOf.AddDays(-20))
        {
            DateTimeOffset end = at.AddDays(Math.Min(14, random.About(3.5, 0.5)));
            yield return new Silence(at, end, random.Happens(0.7));
            at = end.AddDays(-MeanDaysBetween * Math.Log(1 - random.NextDouble()));
        }

        if (Staging.IsSilent(index, window.StageTheEnd))
        {
            yield return new Silence(window.AsOf.AddDays(-5 - index % 4), DateTimeOffset.MaxValue, true);
        }
    }

    private static string Weekday(DayOfWeek day) => WeekdayCodes[(int)day];
}
