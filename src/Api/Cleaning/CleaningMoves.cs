using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Cleaning;

/// <summary>Counts units by whose move it is, without a row for each.</summary>
internal static class CleaningMoves
{
    /// <summary>Whose move it is.</summary>
    /// <param name="all">How units stand, one status a unit and rule.</param>
    /// <param name="asOf">The instant.</param>
    public static MovesReport Of(IReadOnlyList<UnitStatus> all, DateTimeOffset asOf)
    {
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
