using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Api.Cleaning;
using Washwear.Api.Memories;
using Washwear.Api.Registry;
using Washwear.Api.Visits;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;

namespace Washwear.Api.Repairs;

/// <summary>A repair and what is known of it.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Visit">The visit.</param>
/// <param name="Verdict">What is known of it.</param>
internal sealed record JudgedRepair(UnitTerms Unit, StoredVisit Visit, RepairVerdict Verdict);

/// <summary>Judges the repairs of the fleet. Safe for concurrent use.</summary>
public sealed class FleetRepairs
{
    private const int UnprovenDays = 90;
    private const int UnprovenShown = 10;

    private readonly RepairQueries _queries;
    // Kept without words: each reader has them in his own language.
    private readonly Remembered<long, JudgedRepair[]> _unproven;

    /// <summary>Begins with nothing.</summary>
    /// <param name="runs">Tells when records changed.</param>
    /// <param name="queries">Reads records.</param>
    /// <param name="renewals">Judges repairs anew.</param>
    public FleetRepairs(FleetRuns runs, RepairQueries queries, Renewals renewals)
    {
        _queries = queries;
        _unproven = new(renewals, new(
            "unproven_repairs",
            TimeSpan.FromHours(1),
            async token => await runs.CurrentAsync(token) is var fleet ? Place.Of(fleet.Registry, fleet.LastSeq) : default,
            async (asOf, token) => await UnprovenAsync((await runs.CurrentAsync(token)).Registry, asOf, token)));
    }

    /// <summary>Units whose last repair of the last 90 days is not proven, or in doubt.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<UnprovenRepairs> UnprovenAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RepairRow[] rows = [.. (await _unproven.CurrentAsync(asOf, cancellationToken)).Select(RowOf)];
        return new UnprovenRepairs(rows.Length, UnprovenDays, [.. rows.Take(UnprovenShown)]) { All = rows };
    }

    private async Task<JudgedRepair[]> UnprovenAsync(RegistrySnapshot registry, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<UnitTerms> units = CleaningReports.Select(registry, CleaningFilter.All, asOf, asOf);
        IReadOnlyList<JudgedRepair> judged = await JudgeAsync(units, asOf.AddDays(-UnprovenDays), asOf, cancellationToken);
        return
        [
            .. judged.GroupBy(repair => repair.Unit.Unit.Id).Select(unit => unit.MaxBy(repair => repair.Visit.LeftAt)!)
                .Where(repair => !repair.Verdict.IsProven)
                .OrderBy(repair => repair.Verdict.State == RepairState.Contradicted ? 0 : 1).ThenBy(repair => repair.Visit.LeftAt),
        ];
    }

    /// <summary>The last repair of a unit in the last 90 days; null: there was none.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<RepairRow?> LastOfAsync(UnitTerms unit, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<JudgedRepair> judged = await JudgeAsync([unit], asOf.AddDays(-UnprovenDays), asOf, cancellationToken);
        return judged.Count == 0 ? null : RowOf(judged.MaxBy(repair => repair.Visit.LeftAt)!);
    }

    /// <summary>The repairs of units that ended in a window, as known now, in the order in which they ended.</summary>
    /// <param name="units">The units.</param>
    /// <param name="from">Begin of the window, inclusive.</param>
    /// <param name="to">End of the window, exclusive.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<RepairRow>> EndedAsync(
        IReadOnlyList<UnitTerms> units, DateTimeOffset from, DateTimeOffset to, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<JudgedRepair> judged = await JudgeAsync(units, from, asOf, cancellationToken);
        var (begin, end) = (Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(to));
        return [.. judged.Where(repair => repair.Visit.LeftAt >= begin && repair.Visit.LeftAt < end).OrderBy(repair => repair.Visit.LeftAt).Select(RowOf)];
    }

    /// <summary>Judges the repairs of units from an instant on.</summary>
    /// <param name="units">The units.</param>
    /// <param name="since">Visits that ended before it are left out.</param>
    /// <param name="asOf">Up to when records are known.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The repairs, unit by unit, in the order in which they ended.</returns>
    internal async Task<IReadOnlyList<JudgedRepair>> JudgeAsync(
        IReadOnlyList<UnitTerms> units, DateTimeOffset since, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        await JudgeAsync(await ReadAsync(units, since, asOf, cancellationToken), since, asOf, cancellationToken);

    /// <summary>Reads the records of units from an instant on.</summary>
    /// <param name="units">The units.</param>
    /// <param name="since">What ended before it is left out.</param>
    /// <param name="asOf">Up to when records are known.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal Task<IReadOnlyList<UnitRepairs>> ReadAsync(
        IReadOnlyList<UnitTerms> units, DateTimeOffset since, DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _queries.ReadAsync(units, Instant.FromDateTimeOffset(since), Instant.FromDateTimeOffset(asOf), cancellationToken);

    /// <summary>Judges repairs among records that have been read.</summary>
    /// <param name="read">The records.</param>
    /// <param name="since">Repairs that ended before it are left out.</param>
    /// <param name="asOf">Up to when records are known.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The repairs, unit by unit, in the order in which they ended.</returns>
    internal async Task<IReadOnlyList<JudgedRepair>> JudgeAsync(
        IReadOnlyList<UnitRepairs> read, DateTimeOffset since, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        (Instant from, Instant now) = (Instant.FromDateTimeOffset(since), Instant.FromDateTimeOffset(asOf));
        (UnitRepairs Unit, StoredVisit Visit, Instant Until)[] repairs =
            [.. read.SelectMany(unit => RepairsOf(unit, now)).Where(one => one.Visit.LeftAt >= from)];
        ILookup<long, WashWithFault> washes = await _queries.WashesAfterAsync(
            repairs.Select(one => (one.Visit.Seq, one.Unit.Unit.Unit.Id, one.Visit.ArrivedAt ?? one.Visit.LeftAt!.Value, one.Until)), cancellationToken);
        return
        [
            .. repairs.Select(one => new JudgedRepair(
                one.Unit.Unit,
                one.Visit,
                RepairEvidence.Judge(
                    one.Visit.ToRepair(), one.Unit.Faults, washes[one.Visit.Seq], one.Until,
                    TermsOf(one.Unit.Unit, one.Visit.LeftAt!.Value)))),
        ];
    }

    private static RepairRow RowOf(JudgedRepair repair)
    {
        SiteEntry site = repair.Unit.Unit.Site;
        RepairVerdict verdict = repair.Verdict;
        var row = new RepairRow(
            repair.Unit.Unit.Resource.Unit, site.Resource.Site, site.Resource.Name, site.Resource.TimeZone, repair.Visit.Key,
            repair.Visit.LeftAt!.Value.ToDateTimeOffset(), repair.Visit.Faults, verdict.State, verdict.Contradiction, verdict.Missing, verdict.CleanWashes,
            ProofTerms.Usual(ProgrammeGrade.Standard).Washes, verdict.SettledAt?.ToDateTimeOffset(), string.Empty,
            RepairSentences.Doubts(verdict, repair.Visit.Outcome == VisitOutcome.Proven));
        return row with { Sentence = RepairSentences.State(row) };
    }

    // What happens from the next repair on speaks of that one.
    private static IEnumerable<(UnitRepairs Unit, StoredVisit Visit, Instant Until)> RepairsOf(UnitRepairs unit, Instant now)
    {
        StoredVisit[] repairs = [.. unit.Visits.Where(visit => visit.Repaired && visit.LeftAt <= now).OrderBy(visit => visit.LeftAt)];
        for (int i = 0; i < repairs.Length; i++)
        {
            Instant? next = i + 1 < repairs.Length ? repairs[i + 1].ArrivedAt ?? repairs[i + 1].LeftAt : null;
            yield return (unit, repairs[i], next is { } begins && begins < now && begins > repairs[i].LeftAt ? begins : now);
        }
    }

    private static ProofTerms TermsOf(UnitTerms unit, Instant at) =>
        ProofTerms.Usual(GradeAsked(unit, at), ProofRules.GradeAt(unit, at.ToDateTimeOffset()));

    // A wash is evidence when it counts for one of the unit's rules, descaling apart; without a rule a standard wash does.
    private static ProgrammeGrade GradeAsked(UnitTerms unit, Instant at) => unit.RulesOn(at.InZone(unit.Unit.Site.Zone).Date)
        .Select(rule => rule.Rule.Grade).Where(grade => grade != ProgrammeGrade.Descale).DefaultIfEmpty(ProgrammeGrade.Standard).Min();
}
