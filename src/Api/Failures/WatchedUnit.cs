using NodaTime;
using Washwear.Api.PartLife;
using Washwear.Api.Projections;
using Washwear.Api.Registry;

namespace Washwear.Api.Failures;

/// <summary>A unit and the time for which its failures are on record. Instants are ms UTC.</summary>
/// <param name="Terms">The unit.</param>
/// <param name="BornMs">When it was commissioned: its age counts from here.</param>
/// <param name="FromMs">Watched from here on, inclusive.</param>
/// <param name="ToMs">Watched up to here, exclusive.</param>
/// <param name="Out">Periods out of service within, in order and apart from each other.</param>
/// <param name="Washes">Washes by month, from <paramref name="FirstMonth"/> on; empty: none ran.</param>
/// <param name="FirstMonth">First month of the washes.</param>
internal sealed record WatchedUnit(
    UnitTerms Terms, long BornMs, long FromMs, long ToMs, IReadOnlyList<(long From, long To)> Out, int[] Washes, int FirstMonth)
{
    private const double MsPerDay = 86_400_000;
    private const double MsPerYear = 365.25 * MsPerDay;

    /// <summary>When a unit is watched; null where it is not at all.</summary>
    /// <param name="terms">The unit.</param>
    /// <param name="heard">When it was heard; null: never.</param>
    /// <param name="byItself">Whether failures are what the unit itself reports (faults), not what people report (parts).</param>
    /// <param name="asOfMs">Now.</param>
    /// <param name="washes">Washes by month.</param>
    public static WatchedUnit? Of(UnitTerms terms, HeardRow? heard, bool byItself, long asOfMs, WashCounts washes)
    {
        long born = terms.InService.HasStart ? terms.InService.Start.ToUnixTimeMilliseconds() : asOfMs;
        long from = born;
        if (terms.Unit.Resource.RecordsFrom is { } records)
        {
            from = Math.Max(from, terms.Calendar.StartOf(LocalDate.FromDateOnly(records)).ToUnixTimeMilliseconds());
        }

        if (byItself && heard is { } first && first.FirstMs - from > LongestSilence(terms))
        {
            from = first.FirstMs;
        }

        long to = Math.Min(
            FleetLives.LastLook(terms, heard?.LastMs, asOfMs),
            terms.InService.HasEnd ? terms.InService.End.ToUnixTimeMilliseconds() : asOfMs);
        return to <= from || (byItself && heard is null)
            ? null
            : new WatchedUnit(terms, born, from, to, OutOf(terms, from, to), washes.ByUnit.GetValueOrDefault(terms.Unit.Id) ?? [], washes.FirstMonth);
    }

    /// <summary>Whether the unit was watched at an instant.</summary>
    /// <param name="ms">The instant.</param>
    public bool At(long ms) => ms >= FromMs && ms <= ToMs;

    /// <summary>Time watched and in service within a window, years.</summary>
    /// <param name="from">Start of the window.</param>
    /// <param name="to">End of the window.</param>
    public double Years(long from, long to)
    {
        double watched = Overlap(FromMs, ToMs, from, to);
        foreach ((long begin, long end) in Out)
        {
            watched -= Overlap(begin, end, Math.Max(FromMs, from), Math.Min(ToMs, to));
        }

        return watched / MsPerYear;
    }

    /// <summary>Washes that ran within a window; a month that the window cuts gives its share by time.</summary>
    /// <param name="from">Start of the window.</param>
    /// <param name="to">End of the window.</param>
    public double WashesIn(long from, long to)
    {
        double washes = 0;
        int first = Math.Max(0, WashMonth.Of(from) - FirstMonth);
        int last = Math.Min(Washes.Length - 1, WashMonth.Of(to) - FirstMonth);
        for (int i = first; i <= last; i++)
        {
            if (Washes[i] > 0)
            {
                // Only the part of the month in which the unit was there can hold its washes.
                long begin = Math.Max(WashMonth.BeginMs(FirstMonth + i), Math.Min(FromMs, BornMs));
                long end = Math.Min(WashMonth.BeginMs(FirstMonth + i + 1), ToMs);
                washes += end <= begin ? 0 : Washes[i] * Overlap(begin, end, from, to) / (end - begin);
            }
        }

        return washes;
    }

    /// <summary>Age at an instant, days.</summary>
    /// <param name="ms">The instant.</param>
    public double AgeDays(long ms) => (ms - BornMs) / MsPerDay;

    private static long LongestSilence(UnitTerms terms) =>
        (long)TimeSpan.FromHours(Math.Max(7 * 24, terms.Unit.Resource.ReportingHours)).TotalMilliseconds;

    private static List<(long From, long To)> OutOf(UnitTerms terms, long from, long to)
    {
        var periods = new List<(long From, long To)>();
        foreach (OutOfServiceResource period in (terms.Unit.Resource.OutOfService ?? []).OrderBy(period => period.From))
        {
            long begin = Math.Max(period.From.ToUnixTimeMilliseconds(), periods.Count > 0 ? Math.Max(from, periods[^1].To) : from);
            long end = Math.Min(period.To?.ToUnixTimeMilliseconds() ?? to, to);
            if (end > begin)
            {
                periods.Add((begin, end));
            }
        }

        return periods;
    }

    private static double Overlap(long begin, long end, long from, long to) => Math.Max(0, Math.Min(end, to) - Math.Max(begin, from));
}
