using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Diagnosis;
using Washwear.Analytics.Faults;
using Washwear.Api.Ingest;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Api.Visits;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>What a visit told that left the fault open.</summary>
/// <param name="At">When work began.</param>
/// <param name="Checks">Checks of the fault that passed or failed.</param>
/// <param name="Findings">What was found.</param>
internal sealed record EarlierVisit(DateTimeOffset At, IReadOnlyList<CheckAnswer> Checks, IReadOnlyList<CauseFinding> Findings);

/// <summary>
/// Visits that belong to the fault episode which is open now: work began since it was raised and since the last repair, the visit was for
/// this fault or names none, and it left to wait for a part or an approval.
/// </summary>
internal static class EarlierVisits
{
    /// <summary>The visits that told something, oldest first; none where the fault is not open.</summary>
    /// <param name="fault">The fault as the catalogue gives it.</param>
    /// <param name="history">The unit's records.</param>
    /// <param name="visits">The unit's visits.</param>
    /// <param name="lives">The unit's part lives.</param>
    /// <param name="asOf">The instant.</param>
    public static IReadOnlyList<EarlierVisit> Of(
        FaultResource fault, UnitHistory history, IReadOnlyList<VisitToUnit> visits, IReadOnlyList<FleetLife> lives, DateTimeOffset asOf)
    {
        Instant[] repairs =
        [
            .. visits.Where(visit => visit.EndedAs is VisitOutcome.Proven or VisitOutcome.RepairedNotProven).Select(visit => visit.LeftAt)
                .Concat(lives.Where(life => life.Failed).Select(life => life.EndedAt))
                .OfType<DateTimeOffset>().Where(at => at <= asOf).Select(Instant.FromDateTimeOffset),
        ];
        var now = Instant.FromDateTimeOffset(asOf);
        WashFault[] raised =
        [
            .. history.Faults.Where(one => one.RaisedAt <= now && !(one.ClearedAt <= one.RaisedAt) && Same(one.Code, fault.Code))
                .Select(one => one.ClearedAt > now ? one with { ClearedAt = null } : one),
        ];
        if (UnitEpisodes.Of(raised, repairs) is not [.., { IsOpen: true } episode])
        {
            return [];
        }

        DateTimeOffset since = repairs.Append(episode.RaisedAt).Max().ToDateTimeOffset();
        return
        [
            .. visits.Where(visit => visit.ArrivedAt >= since && visit.LeftAt <= asOf && visit.EndedAs is { } ended && Waits(ended))
                .Where(visit => VisitRow.List<string>(visit.Faults) is var codes
                    && (codes.Count == 0 || codes.Any(code => Same(code, fault.Code))))
                .OrderBy(visit => visit.ArrivedAt)
                .Select(visit => Told(visit, fault))
                .Where(told => told.Checks.Count > 0 || told.Findings.Count > 0),
        ];
    }

    private static EarlierVisit Told(VisitToUnit visit, FaultResource fault) => new(
        visit.ArrivedAt!.Value,
        [
            .. VisitRow.List<VisitCheck>(visit.Checks).Where(check => check.Result != CheckResult.NotDone)
                .Select(check => (Known: fault.Checks?.FirstOrDefault(known => Same(known.Check, check.Check)), check.Result))
                .Where(pair => pair.Known is not null).DistinctBy(pair => pair.Known!.Check)
                .Select(pair => new CheckAnswer(pair.Known!.Check, pair.Result == CheckResult.Pass ? SheetResult.Pass : SheetResult.Fail)),
        ],
        [.. VisitRow.List<VisitFinding>(visit.Findings).Select(found => new CauseFinding(found.Position, found.FailureMode, found.Cause))]);

    private static bool Waits(VisitOutcome outcome) => outcome is VisitOutcome.WaitingPart or VisitOutcome.WaitingApproval;

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
