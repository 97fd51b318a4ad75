using System.Globalization;
using NodaTime;
using Washwear.Analytics.Repairs;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Memories;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Repairs;

/// <summary>Assembles the quality of repairs and the faults behind it.</summary>
public sealed class RepairReports
{
    private readonly RegistryCache _registry;
    private readonly FleetRepairs _repairs;
    private readonly DelayReports _delays;
    private readonly Answers<RepairChoice, RepairQualityReport> _answers;

    /// <summary>Begins with nothing.</summary>
    /// <param name="registry">The registry.</param>
    /// <param name="repairs">Judges repairs.</param>
    /// <param name="delays">Where the time of lockouts went.</param>
    /// <param name="renewals">Makes reports of large fleets anew.</param>
    public RepairReports(RegistryCache registry, FleetRepairs repairs, DelayReports delays, Renewals renewals)
    {
        (_registry, _repairs, _delays) = (registry, repairs, delays);
        _answers = new(renewals, "repairs", registry, AssembleAnewAsync);
    }

    /// <summary>The quality of repairs.</summary>
    /// <param name="choice">What is asked for; code and position are not looked at.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public Task<RepairQualityReport> AssembleAsync(RepairChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _answers.OfAsync(choice with { Code = null, Position = null }, asOf, cancellationToken);

    private async Task<RepairQualityReport> AssembleAnewAsync(RepairChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        (IReadOnlyList<UnitRepairs> units, Counted[] faults, DateTimeOffset from) = await ReadAsync(choice, asOf, cancellationToken);
        IReadOnlyList<JudgedRepair> judged = await _repairs.JudgeAsync(units, from, asOf, cancellationToken);
        var old = judged.Where(repair => repair.Visit.LeftAt + ProofTerms.Usual(default).SameFaultWithin <= Instant.FromDateTimeOffset(asOf)).ToArray();
        QualityRow total = Row("all", null, RepairSentences.All, faults, old);
        TeamShare[] teams = [.. TeamShares.Of(faults.Select(one => one.Episode))];
        Dictionary<EpisodeResult, int> results = Enum.GetValues<EpisodeResult>()
            .ToDictionary(result => result, result => faults.Count(one => one.Episode.Result == result));
        DelaysReport time = await _delays.AssembleAsync(
            CleaningFilter.All with { Operator = choice.Operator }, "operator", choice.Days, asOf, cancellationToken);
        return new RepairQualityReport(
            new Basis(asOf, from, asOf, RepairSentences.Method, null, total.FirstVisitFix.Cases, total.Repeat.Count, LeftOut(results), []),
            RepairSentences.Finding(total, choice.Days, choice.RepeatDays),
            choice.RepeatDays,
            total,
            ByCode(faults, old),
            ByPosition(faults, old),
            teams,
            RepairSentences.OnTechnicians(teams.Length > 0, teams.Any(team => team.Apart)),
            results,
            time.Total);
    }

    /// <summary>The faults behind the figures, those cleared last first.</summary>
    /// <param name="choice">What is asked for.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<EpisodesReport> AssembleEpisodesAsync(
        RepairChoice choice, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        (_, Counted[] faults, DateTimeOffset from) = await ReadAsync(choice, asOf, cancellationToken);
        EpisodeRow[] rows =
        [
            .. faults.Where(one => Same(choice.Code, one.Episode.Code) && Same(choice.Position, one.Episode.Position))
                .Select(EpisodeOf).OrderBy(SortKey, StringComparer.Ordinal),
        ];
        PageOf<EpisodeRow> shown = Paging.TakeSorted(rows, SortKey, page);
        return new EpisodesReport(
            new Basis(asOf, from, asOf, RepairSentences.Method, null, rows.Length, null, new Dictionary<string, int>(), []), shown.Items, shown.Next);
    }

    private async Task<(IReadOnlyList<UnitRepairs> Units, Counted[] Faults, DateTimeOffset From)> ReadAsync(
        RepairChoice choice, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        DateTimeOffset from = asOf.AddDays(-choice.Days);
        var window = new Interval(Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(asOf));
        RegistrySnapshot snapshot = await _registry.CurrentAsync(cancellationToken);
        IReadOnlyList<UnitTerms> units = CleaningReports.Select(snapshot, CleaningFilter.All with { Operator = choice.Operator }, from, asOf);

        // A fault cleared in the window may have been raised, and visited, long before.
        IReadOnlyList<UnitRepairs> read = await _repairs.ReadAsync(units, from.AddDays(-choice.Days), asOf, cancellationToken);
        var within = Duration.FromDays(choice.RepeatDays);
        return (
            read,
            [
                .. read.SelectMany(unit => EpisodeOutcomes
                    .Of(unit.Faults, [.. unit.Visits.Select(visit => visit.ToRepairVisit())], unit.PartsFailed, window, within, window.End)
                    .Select(episode => new Counted(unit, episode))),
            ],
            from);
    }

    private static QualityRow[] ByCode(Counted[] faults, JudgedRepair[] old) => Ordered(
        faults.Where(one => one.Episode.IsJudged).GroupBy(one => one.Episode.Code, StringComparer.OrdinalIgnoreCase).Select(group => Row(
            "code",
            group.Key,
            group.Select(one => one.Unit.Unit.Unit.Model.Faults.GetValueOrDefault(group.Key)?.Text).FirstOrDefault(text => text is not null) is { } text
                ? group.Key + ": " + text
                : group.Key,
            group,
            old.Where(repair => repair.Visit.Faults.Contains(group.Key, StringComparer.OrdinalIgnoreCase)))));

    private static QualityRow[] ByPosition(Counted[] faults, JudgedRepair[] old) => Ordered(
        faults.Where(one => one.Episode.IsJudged).GroupBy(one => one.Episode.Position ?? string.Empty, StringComparer.OrdinalIgnoreCase).Select(group => Row(
            "position",
            group.Key.Length == 0 ? null : group.Key,
            group.Key.Length == 0 ? RepairSentences.NotTold : group.First().Unit.Unit.Unit.Model.Positions.GetValueOrDefault(group.Key)?.Name ?? group.Key,
            group,
            old.Where(repair => string.Equals(repair.Visit.Position ?? string.Empty, group.Key, StringComparison.OrdinalIgnoreCase)))));

    private static QualityRow[] Ordered(IEnumerable<QualityRow> rows) =>
        [.. rows.OrderByDescending(row => row.FirstVisitFix.Cases).ThenBy(row => row.Name, StringComparer.OrdinalIgnoreCase)];

    private static QualityRow Row(string by, string? code, string name, IEnumerable<Counted> faults, IEnumerable<JudgedRepair> old)
    {
        QualityGroup group = RepairQuality.Of(name, faults.Select(one => one.Episode), old.Select(repair => repair.Verdict));
        return new QualityRow(by, code, name, group.FirstVisitFix, group.Repeat, group.Proven);
    }

    private static Dictionary<string, int> LeftOut(Dictionary<EpisodeResult, int> results) =>
        new[] { EpisodeResult.NoVisit, EpisodeResult.TooRecent }.Where(result => results[result] > 0)
            .ToDictionary(result => result == EpisodeResult.NoVisit ? "cleared_without_a_visit" : "too_recent_to_tell", result => results[result]);

    private static EpisodeRow EpisodeOf(Counted one)
    {
        SiteEntry site = one.Unit.Unit.Unit.Site;
        Dictionary<long, string> keys = one.Unit.Visits.ToDictionary(visit => visit.Seq, visit => visit.Key);
        return new EpisodeRow(
            one.Unit.Unit.Unit.Resource.Unit, site.Resource.Site, site.Resource.Name, site.Resource.TimeZone, one.Episode.Code, one.Episode.Position,
            one.Episode.RaisedAt.ToDateTimeOffset(), one.Episode.ClearedAt.ToDateTimeOffset(), [.. one.Episode.Visits.Select(visit => keys[visit.Number])],
            one.Episode.Result, one.Episode.CameBackAt?.ToDateTimeOffset());
    }

    private static string SortKey(EpisodeRow row) => string.Create(
        CultureInfo.InvariantCulture, $"{long.MaxValue - row.ClearedAt.ToUnixTimeMilliseconds():D19} {row.Unit} {row.Code} {row.RaisedAt.ToUnixTimeMilliseconds():D16}");

    private static bool Same(string? asked, string? actual) =>
        asked is null || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);

    private sealed record Counted(UnitRepairs Unit, EpisodeOutcome Episode);
}
