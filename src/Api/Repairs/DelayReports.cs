using NodaTime;
using Washwear.Analytics.Repairs;
using Washwear.Api.Cleaning;
using Washwear.Api.Memories;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Repairs;

/// <summary>Assembles where the time of lockouts went.</summary>
public sealed class DelayReports
{
    private readonly RegistryCache _registry;
    private readonly RepairQueries _queries;
    private readonly Answers<(CleaningFilter Filter, string By, int Days), DelaysReport> _answers;

    /// <summary>Begins with nothing.</summary>
    /// <param name="registry">The registry.</param>
    /// <param name="queries">Reads records.</param>
    /// <param name="renewals">Makes reports of large fleets anew.</param>
    public DelayReports(RegistryCache registry, RepairQueries queries, Renewals renewals)
    {
        (_registry, _queries) = (registry, queries);
        _answers = new(renewals, "delays", registry, (asked, asOf, token) => AssembleAnewAsync(asked.Filter, asked.By, asked.Days, asOf, token));
    }

    /// <summary>What a row can stand for.</summary>
    public static readonly IReadOnlyList<string> GroupingCodes = ["operator", "site", "model", "region", "code"];

    /// <summary>Days that are looked at when nobody says otherwise.</summary>
    public const int UsualDays = 90;

    /// <summary>The report.</summary>
    /// <param name="filter">Which units.</param>
    /// <param name="by">One of <see cref="GroupingCodes"/>.</param>
    /// <param name="days">Days up to now.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public Task<DelaysReport> AssembleAsync(
        CleaningFilter filter, string by, int days, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _answers.OfAsync((filter, by, days), asOf, cancellationToken);

    private async Task<DelaysReport> AssembleAnewAsync(
        CleaningFilter filter, string by, int days, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        DateTimeOffset from = asOf.AddDays(-days);
        RegistrySnapshot snapshot = await _registry.CurrentAsync(cancellationToken);
        IReadOnlyList<UnitTerms> units = CleaningReports.Select(snapshot, filter, from, asOf);
        var window = new Interval(Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(asOf));
        IReadOnlyList<(UnitTerms Unit, LockoutDelays Lockout)> lockouts = await LockoutsAsync(units, window, cancellationToken);
        DelayRow total = Row("all", DelayWords.AllLockouts, lockouts.Select(one => one.Lockout));
        DelayRow[] rows =
        [
            .. lockouts.GroupBy(one => GroupOf(one.Unit, one.Lockout, by), (group, members) => (group, members))
                .Select(pair => Row(pair.group.Code, pair.group.Name, pair.members.Select(one => one.Lockout)))
                .OrderByDescending(row => row.Hours).ThenBy(row => row.Code, StringComparer.Ordinal),
        ];
        return new DelaysReport(
            new Basis(asOf, from, asOf, DelayWords.Method, null, lockouts.Count, null, new Dictionary<string, int>(), []),
            DelayWords.Finding(total, days),
            by,
            total,
            rows);
    }

    /// <summary>The lockouts that reach into a window.</summary>
    /// <param name="units">The units.</param>
    /// <param name="window">The window, with both ends.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<(UnitTerms Unit, LockoutDelays Lockout)>> LockoutsAsync(
        IReadOnlyList<UnitTerms> units, Interval window, CancellationToken cancellationToken) =>
    [
        .. (await ReadAsync(units, window, cancellationToken))
            .SelectMany(unit => RepairDelays.Of(unit.ToHistory(), window).Select(lockout => (unit.Unit, lockout))),
    ];

    // What a lockout waits for is told by all that happened since it was raised, which may be before the window.
    private async Task<IReadOnlyList<UnitRepairs>> ReadAsync(
        IReadOnlyList<UnitTerms> units, Interval window, CancellationToken cancellationToken)
    {
        IReadOnlyList<UnitRepairs> read = await _queries.ReadAsync(units, window.Start, window.End, cancellationToken);
        Instant first = read.SelectMany(unit => unit.Faults).Where(fault => fault.LocksOutWashing).Select(fault => fault.RaisedAt)
            .DefaultIfEmpty(window.Start).Min();
        return first >= window.Start ? read : await _queries.ReadAsync(units, first, window.End, cancellationToken);
    }

    private static (string Code, string Name) GroupOf(UnitTerms unit, LockoutDelays lockout, string by)
    {
        SiteEntry site = unit.Unit.Site;
        ModelEntry model = unit.Unit.Model;
        return by switch
        {
            "site" => (site.Resource.Site, site.Resource.Name),
            "model" => (model.Resource.Model, model.Resource.Name),
            "region" => (site.Resource.Region ?? string.Empty, site.Resource.Region ?? DelayWords.NoRegion),
            "code" => (lockout.Codes[0], lockout.Codes[0]),
            _ => (site.Operator.Resource.Operator, site.Operator.Resource.Name),
        };
    }

    private static DelayRow Row(string code, string name, IEnumerable<LockoutDelays> lockouts)
    {
        LockoutDelays[] all = [.. lockouts];
        Dictionary<DelayKind, double> kinds =
            Enum.GetValues<DelayKind>().ToDictionary(kind => kind, kind => all.Sum(lockout => lockout.Of(kind).TotalHours));
        Dictionary<DelaySort, double> sorts = Enum.GetValues<DelaySort>().ToDictionary(
            sort => sort, sort => kinds.Where(pair => RepairDelays.SortOf(pair.Key) == sort).Sum(pair => pair.Value));
        return new DelayRow(code, name, all.Length, sorts.Values.Sum(), sorts, kinds);
    }
}
