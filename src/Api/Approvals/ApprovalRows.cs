using Washwear.Api.Registry;
using Washwear.Dashboard.Approvals;

namespace Washwear.Api.Approvals;

/// <summary>Turns a stored approval and what waiting costs into a row.</summary>
internal static class ApprovalRows
{
    /// <summary>The position at fault: what the visit found, else the likeliest cause of the fault by the catalogue.</summary>
    /// <param name="model">The unit's model.</param>
    /// <param name="approval">The approval.</param>
    /// <param name="found">What visits found, by the approval's number.</param>
    public static (string? Position, PositionSource? From) PositionOf(
        ModelEntry model, StoredApproval approval, IReadOnlyDictionary<long, string> found)
    {
        if (found.TryGetValue(approval.Seq, out string? position))
        {
            return (position, PositionSource.Finding);
        }

        FaultCauseResource? likeliest = approval.FaultCode is { } code && model.Faults.TryGetValue(code, out FaultResource? fault)
            ? (fault.Causes ?? []).MaxBy(cause => cause.PriorWeight)
            : null;
        return likeliest is null ? (null, null) : (likeliest.Position, PositionSource.Catalogue);
    }

    /// <summary>The row of an open approval, its doubts still to be told.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="one">The approval.</param>
    /// <param name="part">Position at fault, and from where it is known.</param>
    /// <param name="cost">What waiting costs.</param>
    /// <param name="sites">How the kitchen stands.</param>
    /// <param name="asOf">The instant.</param>
    public static ApprovalRow Open(
        UnitEntry unit, StoredApproval one, (string? Position, PositionSource? From) part, WaitingCost cost, SiteStanding sites, DateTimeOffset asOf)
    {
        ApprovalRow row = Base(unit, one) with
        {
            Position = part.Position,
            PositionName = part.Position is { } code ? NameOf(unit.Model, code) : null,
            PositionFrom = part.From,
            WaitedHours = one.AskedAt is { } asked ? Math.Max(0, (asOf - asked).TotalHours) : null,
            UnwashedDays = cost.UnwashedDays,
            UnwashedDaysNextWeek = cost.UnwashedDaysNextWeek,
            CompanionChance30Days = cost.CompanionChance,
            Companions = [.. cost.Companions.Select(position => NameOf(unit.Model, position))],
            UnitsAtSite = sites.UnitsAt(unit),
            OtherUnitsThatWash = sites.OthersThatWash(unit),
        };
        return row with { Sentence = ApprovalSentences.Cost(row) };
    }

    /// <summary>The row of a decided approval.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="one">The approval.</param>
    /// <param name="unwashedDays">Days without a wash that it cost.</param>
    /// <param name="unitsAtSite">Units in service at the site now.</param>
    public static ApprovalRow Decided(UnitEntry unit, StoredApproval one, double unwashedDays, int unitsAtSite)
    {
        ApprovalRow row = Base(unit, one) with
        {
            State = one.Decision == "granted" ? ApprovalState.Granted : ApprovalState.Refused,
            WaitedHours = one.DecidedAt - one.AskedAt is { } waited ? waited.TotalHours : null,
            UnwashedDays = unwashedDays,
            UnitsAtSite = unitsAtSite,
            DecidedByAsker = one.AskedBy is null ? null : one.IsDecidedByAsker,
            Doubts = one.IsDecidedByAsker ? [ApprovalSentences.DecidedByAsker(one.DecidedBy, one.IsNamed(one.AskedBy!))] : [],
        };
        return row with { Sentence = ApprovalSentences.Cost(row) };
    }

    /// <summary>What looks wrong with an open approval.</summary>
    /// <param name="row">The approval.</param>
    /// <param name="open">All open ones.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="sites">How the kitchen stands.</param>
    public static IReadOnlyList<string> Doubts(ApprovalRow row, IReadOnlyList<ApprovalRow> open, UnitEntry unit, SiteStanding sites) =>
        ApprovalSentences.Doubts(
            sites.IsLockedOut(unit.Id) == false,
            sites.HasWashedSince(unit.Id) && sites.IsLockedOut(unit.Id) == true,
            open.Count(other => other.Unit == row.Unit && SameFault(other.FaultCode, row.FaultCode)) > 1,
            row.AskedAt is null);

    private static ApprovalRow Base(UnitEntry unit, StoredApproval one)
    {
        SiteEntry site = unit.Site;
        return new ApprovalRow(
            one.Seq, one.Source, one.Key, ApprovalState.Open, unit.Resource.Unit, site.Resource.Site, site.Resource.Name,
            site.Operator.Resource.Operator, site.Operator.Resource.Name, site.Resource.TimeZone, one.What, one.Amount, one.FaultCode,
            one.FaultCode is { } code ? unit.Model.Faults.GetValueOrDefault(code)?.Text : null, null, null, null, one.AskedAt, null, 0, null, null, [],
            0, null, one.DecidedAt, one.DecidedBy, null, one.Note, string.Empty, []);
    }

    private static bool SameFault(string? one, string? other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    private static string NameOf(ModelEntry model, string position) => model.Positions.GetValueOrDefault(position)?.Name ?? position;
}
