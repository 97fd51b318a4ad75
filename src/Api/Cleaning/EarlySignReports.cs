using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the reports on early signs.</summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads the charts.</param>
public sealed class EarlySignReports(RegistryCache registry, EarlySignQueries queries)
{
    private const int DaysCharted = 120;

    /// <summary>The signs that stand now.</summary>
    /// <param name="filter">Which units.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="page">The page of rows to give; null: all.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>One row a unit and sign, newest first.</returns>
    public async Task<EarlySignsReport> AssembleAsync(
        CleaningFilter filter, DateTimeOffset asOf, PageRequest? page, CancellationToken cancellationToken)
    {
        IReadOnlyList<UnitTerms> units = CleaningReports.Select(await registry.CurrentAsync(cancellationToken), filter, asOf, asOf);
        (IReadOnlySet<int> charted, IReadOnlyDictionary<int, UnitSigns> called) = await queries.StandingAsync(cancellationToken);
        UnitSign[] rows =
        [
            .. units.SelectMany(unit => called.TryGetValue(unit.Unit.Id, out UnitSigns? signs) ? Rows(unit.Unit, signs) : [])
                .OrderBy(SortKey, StringComparer.Ordinal),
        ];
        int enough = units.Count(unit => charted.Contains(unit.Unit.Id));
        int standing = rows.Select(row => row.Unit).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        PageOf<UnitSign> shown = page is null ? new PageOf<UnitSign>(rows, null) : Paging.Take(rows, SortKey, page);
        return new EarlySignsReport(
            BasisOf(asOf, enough, units.Count - enough),
            EarlySignSentences.Fleet(standing, enough),
            EarlySignOptions.Usual.FalseAlarmsPerYear,
            standing,
            shown.Items,
            shown.Next);
    }

    /// <summary>A unit's charts.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<SignCharts> ChartsAsync(UnitEntry unit, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<SignEvent> events = await queries.EventsAsync(unit.Id, cancellationToken);
        var from = Instant.FromDateTimeOffset(asOf.AddDays(-DaysCharted));
        UnitSigns signs = UnitSigns.Blank;
        var points = new List<SignPoint>();
        foreach (SignEvent happened in events)
        {
            signs = happened.FoldInto(signs);
            if (happened.At >= from)
            {
                points.Add(Point(happened, signs));
            }
        }

        SignReading[] readings = [.. EarlySigns.Of(signs).Select(sign => Reading(unit.Resource.Unit, sign))];
        return new SignCharts(EarlySignSentences.Unit(readings), readings, points);
    }

    /// <summary>Sort key of a row: the newest sign first.</summary>
    /// <param name="row">The row.</param>
    public static string SortKey(UnitSign row) => string.Create(
        CultureInfo.InvariantCulture,
        $"{DateTimeOffset.MaxValue.ToUnixTimeMilliseconds() - row.Sign.CalledAt!.Value.ToUnixTimeMilliseconds():D16} {Codes.Key(row.Unit)} {(int)row.Sign.Kind}");

    private static Basis BasisOf(DateTimeOffset asOf, int charted, int tooLittle) => new(
        asOf, null, null, EarlySignSentences.Method, null, charted, null,
        tooLittle == 0 ? new Dictionary<string, int>() : new Dictionary<string, int> { ["with_too_little_history"] = tooLittle },
        charted == 0 ? [] : [EarlySignSentences.Doubt]);

    private static IEnumerable<UnitSign> Rows(UnitEntry unit, UnitSigns signs)
    {
        SiteEntry site = unit.Site;
        return EarlySigns.Of(signs).Where(sign => sign.IsCalled).Select(sign => new UnitSign(
            unit.Resource.Unit, site.Resource.Site, site.Resource.Name, site.Operator.Resource.Operator, site.Operator.Resource.Name,
            unit.Model.Resource.Model, site.Resource.Region, site.Resource.TimeZone, Reading(unit.Resource.Unit, sign)));
    }

    private static SignReading Reading(string unit, EarlySign sign)
    {
        bool climbs = sign is { IsCharted: true, Washes: > 0 };
        bool bad = sign.Kind == SignKind.BadWashes;
        return new SignReading(
            sign.Kind,
            sign.IsCharted,
            sign.IsCharted ? sign.Statistic : null,
            sign.IsCharted ? sign.Limit : null,
            sign.Since?.ToDateTimeOffset(),
            sign.CalledAt?.ToDateTimeOffset(),
            sign.Washes,
            climbs && bad ? (int)Math.Round(sign.Seen) : null,
            climbs && !bad ? sign.Seen / sign.Washes : null,
            climbs && !bad ? sign.Expected / sign.Washes : null,
            sign.BaselineShare,
            sign.BaselineWashes,
            sign.WashesBetweenFalseAlarms,
            sign.FalseAlarmsPerYear,
            EarlySignSentences.Of(unit, sign));
    }

    private static SignPoint Point(SignEvent happened, UnitSigns signs)
    {
        IReadOnlyList<EarlySign> all = EarlySigns.Of(signs);
        double? Share(SignKind kind) => all[(int)kind].ShareOfLimit;
        return new SignPoint(
            happened.At.ToDateTimeOffset(), happened.Wash is null, Share(SignKind.BadWashes), Share(SignKind.LongerWashes),
            Share(SignKind.ShorterWashes));
    }
}
