using System.Globalization;
using NodaTime;
using NodaTime.Extensions;
using Washwear.Api.Http;
using Washwear.Api.Operators;
using Washwear.Api.Registry;
using Washwear.Api.Units;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;

namespace Washwear.Api.Timeline;

/// <summary>Assembles timelines.</summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads records.</param>
internal sealed class TimelineReports(RegistryCache registry, TimelineQueries queries)
{
    // Read beyond a page, so that it can end between two stories.
    private const int Beyond = 120;
    private const long MillisecondsPerHour = 3_600_000;

    // Stretches are looked at one after the other until a page is full, hours: thousands of ovens fill it within the first. The next is as
    // long as what was found in the one before lets expect, with some room, and at most so many times as long.
    private const double FirstStretch = 2;
    private const double LongestStretch = 40_000 * 24;
    private const double Room = 1.5;
    private const double MostTimesLonger = 20;

    /// <summary>A page of a timeline.</summary>
    /// <param name="subject">Of what it tells.</param>
    /// <param name="code">Code of the unit, site or operator.</param>
    /// <param name="kinds">Only these kinds; null: the usual ones.</param>
    /// <param name="page">The page asked for: about how many records, and behind which.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The timeline; null when there is no such unit, site or operator.</returns>
    public async Task<TimelineReport?> AssembleAsync(
        TimelineSubject subject, string code, IReadOnlyList<TimelineKind>? kinds, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (Found(snapshot, subject, code) is not { } found)
        {
            return null;
        }

        IReadOnlyList<TimelineKind> shown = kinds ?? TimelineWords.Usual(subject);
        IReadOnlyList<RecordRow> rows = await ReadAsync(found.Units, shown, page, cancellationToken);
        TimelineRecord[] records = [.. rows.Select(row => TimelineRecord.Of(row, snapshot.Cleaning.ById[(int)row.UnitId]))];
        IReadOnlyList<Story> stories = TimelineEntries.StoriesOf(records, shown, asOf);
        int end = End(records, stories, page.Limit);
        TimelineRecord[] taken = records[..end];
        HashSet<long> here = [.. taken.Select(record => record.Row.Seq)];
        IReadOnlyList<TimelineEntry> entries =
            TimelineEntries.Of(taken, [.. stories.Where(story => story.Members.All(member => here.Contains(member.Row.Seq)))], shown, asOf);
        DateTimeZone zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(found.TimeZone) ?? DateTimeZone.Utc;
        TimelineDay[] days =
        [
            .. entries.GroupBy(entry => entry.To.ToInstant().InZone(zone).Date).OrderByDescending(day => day.Key)
                .Select(day => new TimelineDay(day.Key.ToDateOnly(), [.. day])),
        ];
        string? next = end < records.Length ? Cursor(taken[^1].Row) : null;
        return new TimelineReport(
            new Basis(asOf, null, null, TimelineWords.Method, null, taken.Length, null, new Dictionary<string, int>(), []),
            subject, found.Code, found.Name, found.TimeZone, TimelineWords.Sentence(days, next is not null), shown, days,
            page.After is { } after ? Paging.Cursor([.. after]) : null, next);
    }

    private async Task<IReadOnlyList<RecordRow>> ReadAsync(
        UnitEntry[] units, IReadOnlyList<TimelineKind> kinds, PageRequest page, CancellationToken cancellationToken)
    {
        (long beforeMs, long beforeSeq) = page.After is [var ms, var seq]
            && long.TryParse(ms, CultureInfo.InvariantCulture, out long at) && long.TryParse(seq, CultureInfo.InvariantCulture, out long number)
                ? (at, number)
                : (long.MaxValue, long.MaxValue);
        var asked = new TimelineAsked(
            [.. units.Select(unit => unit.Id)], TimelineRecord.TypesOf(kinds), kinds.Contains(TimelineKind.Corrections), long.MinValue, beforeMs, beforeSeq,
            page.Limit + Beyond + 1);

        // The records of one unit lie in their order. Those of many are sorted, so as few as will do are looked at.
        if (units.Length <= 1)
        {
            return await queries.ReadAsync(asked, cancellationToken);
        }

        long newest = Math.Min(beforeMs, await queries.LastAsync(asked, cancellationToken) ?? 0);
        for (double hours = FirstStretch; ;)
        {
            IReadOnlyList<RecordRow> rows = await queries.ReadAsync(asked with { FromMs = newest - (long)(hours * MillisecondsPerHour) }, cancellationToken);
            if (rows.Count == asked.Limit || hours >= LongestStretch)
            {
                return rows;
            }

            hours = Math.Min(LongestStretch, hours * Math.Min(MostTimesLonger, Room * asked.Limit / Math.Max(1, rows.Count)));
        }
    }

    // Behind the first record from the limit on at which no story is under way; where there is none, at the limit.
    private static int End(TimelineRecord[] records, IReadOnlyList<Story> stories, int limit)
    {
        if (records.Length <= limit)
        {
            return records.Length;
        }

        Dictionary<long, int> places = records.Select((record, i) => (record.Row.Seq, i)).ToDictionary(pair => pair.Seq, pair => pair.i);
        (int First, int Last)[] spans =
            [.. stories.Select(story => story.Members.Select(member => places[member.Row.Seq]).ToArray()).Select(all => (all.Min(), all.Max()))];
        for (int end = limit; end < records.Length; end++)
        {
            if (!spans.Any(span => span.First < end && span.Last >= end))
            {
                return end;
            }
        }

        return limit;
    }

    private static string Cursor(RecordRow row) =>
        Paging.Cursor(row.AtMs.ToString(CultureInfo.InvariantCulture), row.Seq.ToString(CultureInfo.InvariantCulture));

    private static (string Code, string Name, string TimeZone, UnitEntry[] Units)? Found(RegistrySnapshot snapshot, TimelineSubject subject, string code)
    {
        switch (subject)
        {
            case TimelineSubject.Unit when snapshot.Units.TryGetValue(code, out UnitEntry? unit):
                return (unit.Resource.Unit, unit.Resource.Unit, unit.Site.Resource.TimeZone, [unit]);
            case TimelineSubject.Site when snapshot.Sites.TryGetValue(code, out SiteEntry? site):
                return (site.Resource.Site, site.Resource.Name, site.Resource.TimeZone, [.. snapshot.UnitList.Where(unit => ReferenceEquals(unit.Site, site))]);
            case TimelineSubject.Operator when snapshot.Operators.TryGetValue(code, out OperatorEntry? entry):
                UnitEntry[] units = [.. snapshot.UnitList.Where(unit => ReferenceEquals(unit.Site.Operator, entry))];
                return (entry.Resource.Operator, entry.Resource.Name, ReportMonth.ZoneOf(units).Id, units);
            default:
                return null;
        }
    }
}
