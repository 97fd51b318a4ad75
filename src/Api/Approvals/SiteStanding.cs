using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Approvals;

/// <summary>How the units of some sites stand now: who can wash and who is not heard.</summary>
internal sealed class SiteStanding
{
    private readonly Dictionary<int, IReadOnlyList<UnitTerms>> _units = [];
    private readonly ILookup<int, CleaningStatus> _statuses;

    private SiteStanding(Dictionary<int, IReadOnlyList<UnitTerms>> units, ILookup<int, CleaningStatus> statuses) =>
        (_units, _statuses) = (units, statuses);

    /// <summary>Reads how the units of sites stand.</summary>
    /// <param name="fleet">Where every unit stands.</param>
    /// <param name="cleaning">Tells how units stand.</param>
    /// <param name="sites">The sites.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public static async Task<SiteStanding> ReadAsync(
        Fleet fleet, CleaningReports cleaning, IEnumerable<SiteEntry> sites, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        HashSet<int> asked = [.. sites.Select(site => site.Id)];
        Dictionary<int, IReadOnlyList<UnitTerms>> units = CleaningReports.Select(fleet.Registry, CleaningFilter.All, asOf, asOf)
            .Where(unit => asked.Contains(unit.Unit.Site.Id))
            .GroupBy(unit => unit.Unit.Site.Id)
            .ToDictionary(group => group.Key, group => (IReadOnlyList<UnitTerms>)[.. group]);
        IReadOnlyList<UnitStatus> statuses = await cleaning.StatusesAsync(
            fleet, [.. units.Values.SelectMany(list => list)], asOf, cancellationToken);
        return new SiteStanding(units, statuses.ToLookup(one => one.Unit.Unit.Id, one => one.Status));
    }

    /// <summary>Units in service at a unit's site, itself included.</summary>
    /// <param name="unit">The unit.</param>
    public int UnitsAt(UnitEntry unit) => _units.GetValueOrDefault(unit.Site.Id)?.Count ?? 0;

    /// <summary>Other units at a unit's site that can wash: in service, heard, and not locked out.</summary>
    /// <param name="unit">The unit.</param>
    public int OthersThatWash(UnitEntry unit) =>
        (_units.GetValueOrDefault(unit.Site.Id) ?? []).Count(other => other.Unit.Id != unit.Id && CanWash(other.Unit.Id));

    /// <summary>Whether nothing is heard from a unit.</summary>
    /// <param name="unit">The unit.</param>
    public bool IsSilent(UnitEntry unit) => _statuses[unit.Id].Any(status => status.State == CleaningState.Silent);

    /// <summary>Whether a unit's lockout waits for an approval now.</summary>
    /// <param name="unit">The unit.</param>
    public bool WaitsForApproval(UnitEntry unit) => _statuses[unit.Id].Any(status => status.Lockout == Cause.LockoutWaitingApproval);

    /// <summary>Whether the unit itself ran a wash that counts after it was locked out, so that the lockout may be over.</summary>
    /// <param name="unitId">Number of the unit.</param>
    public bool HasWashedSince(int unitId) => _statuses[unitId].Any(status => status.HasWashedSince);

    /// <summary>Whether a fault keeps a unit from washing; null: it is under no rule, so that nobody can tell.</summary>
    /// <param name="unitId">Number of the unit.</param>
    public bool? IsLockedOut(int unitId) => _statuses.Contains(unitId) ? _statuses[unitId].Any(status => status.Lockout is not null) : null;

    private bool CanWash(int unitId) => _statuses.Contains(unitId)
        && _statuses[unitId].All(status => status is { Lockout: null, State: not (CleaningState.Silent or CleaningState.OutOfService) });
}
