using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Operators;

namespace Washwear.Api.Operators;

/// <summary>Parts that were changed in a month, from the lives of parts: one ends where the next begins.</summary>
internal static class MonthParts
{
    /// <summary>The changes.</summary>
    /// <param name="lives">Lives of parts by the unit's number.</param>
    /// <param name="units">The units.</param>
    /// <param name="from">Begin of the month, inclusive.</param>
    /// <param name="to">End of the month, exclusive.</param>
    /// <returns>In the order of time.</returns>
    public static MonthPart[] Of(ILookup<int, FleetLife> lives, IEnumerable<UnitEntry> units, DateTimeOffset from, DateTimeOffset to)
    {
        bool Within(DateTimeOffset? at) => at >= from && at < to;
        return
        [
            .. units.SelectMany(unit => lives[unit.Id].GroupBy(life => Codes.Key(life.Position), StringComparer.Ordinal)
                    .SelectMany(position => position.Where(life => Within(life.EndedAt)).Select(life => life.EndedAt!.Value)
                        .Concat(position.Where(life => Within(life.FittedAt)).Select(life => life.FittedAt!.Value)).Distinct()
                        .Select(at => Change(unit, position, at))))
                .OrderBy(row => row.At).ThenBy(row => row.Unit, StringComparer.Ordinal).ThenBy(row => row.Position, StringComparer.Ordinal),
        ];
    }

    private static MonthPart Change(UnitEntry unit, IEnumerable<FleetLife> lives, DateTimeOffset at)
    {
        FleetLife? removed = lives.FirstOrDefault(life => life.EndedAt == at);
        FleetLife? fitted = lives.FirstOrDefault(life => life.FittedAt == at);
        string position = (removed ?? fitted)!.Position;
        return new MonthPart(
            unit.Resource.Unit,
            unit.Site.Resource.Site,
            unit.Site.Resource.Name,
            unit.Site.Resource.TimeZone,
            at,
            position,
            unit.Model.Positions.GetValueOrDefault(position)?.Name ?? position,
            removed?.EndedHow,
            removed?.FailureMode,
            removed is { FittedAt: { } since } ? (at - since).TotalDays : null,
            fitted?.PartNumber);
    }
}
