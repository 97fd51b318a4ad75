using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Cleaning;

/// <summary>Counts units by whose move it is, without a row for each.</summary>
/// <param name="reports">Tells how units stand.</param>
public sealed class CleaningMoves(CleaningReports reports)
{
    /// <summary>Whose move it is over the units of a filter.</summary>
    /// <param name="filter">Which units; its state and whose move are not looked at.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<MovesReport> AssembleAsync(CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<UnitStatus> all = await reports.StandingAsync(filter, asOf, cancellationToken);
        ILookup<bool, UnitStatus> byDescaling = all.Where(IsLate).ToLookup(one => one.Rule.Rule.Grade == ProgrammeGrade.Descale);
        UnitStatus[] late = [.. byDescaling[false]];
        UnitStatus? longest = late.Length == 0 ? null : late.MinBy(one => one.Status.Deadline);
        return new MovesReport(
            all.Select(one => one.Unit.Unit.Id).Distinct().Count(),
            late.Select(one => one.Unit.Unit.Id).Distinct().Count(),
            longest is { } worst ? worst.Unit.Unit.Resource.Unit : null,
            longest is { } where ? where.Unit.Unit.Site.Resource.Name : null,
            longest is { } since ? since.Status.Later(Instant.FromDateTimeOffset(asOf)).OverdueBy.TotalHours : null,
            byDescaling[true].Count(),
            all.Where(one => one.Status.WhoseMove != Mover.Nobody).DistinctBy(one => (one.Status.WhoseMove, one.Unit.Unit.Id))
                .CountBy(one => one.Status.WhoseMove).ToDictionary());
    }

    // Of a silent unit nobody can say; one that is closed or out of service owes nothing now.
    private static bool IsLate(UnitStatus one) =>
        one.Status.State is CleaningState.Overdue or CleaningState.LockedOut && one.Status.OverdueBy > Duration.Zero;
}
