using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;

namespace Washwear.Api.Approvals;

/// <summary>What waiting for an approval does to the unit and its kitchen.</summary>
/// <param name="UnwashedDays">Days overdue and charged to the wait so far.</param>
/// <param name="UnwashedDaysNextWeek">Days without a wash in the next 7 days if nothing happens; null: nobody can tell.</param>
/// <param name="CompanionChance">Chance that a companion fails within 30 days; null: it cannot be told.</param>
/// <param name="Companions">Positions that the chance speaks of.</param>
internal sealed record WaitingCost(double UnwashedDays, double? UnwashedDaysNextWeek, double? CompanionChance, IReadOnlyList<string> Companions);

/// <summary>Counts what waiting for approvals costs, by the computations of cleaning and of part life and by no other.</summary>
/// <param name="runs">Where every unit stands.</param>
/// <param name="wear">Fitted parts.</param>
public sealed class WaitingCosts(FleetRuns runs, FleetWear wear)
{
    private const double ChanceDays = 30;
    private static readonly Duration Week = Duration.FromDays(7);
    private static readonly Duration Day = Duration.FromDays(1);

    /// <summary>Days overdue and charged to the wait for an approval in a stretch of time, under the unit's hardest rule.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="from">When it was asked for.</param>
    /// <param name="to">When it was decided.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    internal async Task<double> UnwashedDaysAsync(UnitEntry unit, DateTimeOffset? from, DateTimeOffset to, CancellationToken cancellationToken) =>
        from < to
            ? Hardest(await CountAsync(unit, [Window(from.Value, to)], cancellationToken), 0, tally => tally.Of(Cause.LockoutWaitingApproval))
            : 0;

    /// <summary>What an open approval costs.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="askedAt">When it was asked for; null: not known.</param>
    /// <param name="position">Position at fault; null: not known.</param>
    /// <param name="waits">Whether the unit's lockout waits for an approval now; null: nothing is heard from it.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    internal async Task<WaitingCost> OfAsync(
        UnitEntry unit, DateTimeOffset? askedAt, string? position, bool? waits, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var now = Instant.FromDateTimeOffset(asOf);
        double soFar = await UnwashedDaysAsync(unit, askedAt, asOf, cancellationToken);
        double? next = waits switch
        {
            null => null,
            false => 0,
            true => await AheadAsync(unit, new Interval(now, now + Week), cancellationToken),
        };
        (double? chance, string[] companions) = await CompanionsAsync(unit, position, asOf, cancellationToken);
        return new WaitingCost(soFar, next, chance, companions);
    }

    // When nothing happens the unit is not heard either: silence that begins ahead is the wait going on.
    private async Task<double> AheadAsync(UnitEntry unit, Interval week, CancellationToken cancellationToken) => Hardest(
        await CountAsync(unit, [week], cancellationToken), 0, tally => tally.Of(Cause.LockoutWaitingApproval) + tally.Of(Cause.Silent));

    private async Task<UnitTallies> CountAsync(UnitEntry unit, Interval[] windows, CancellationToken cancellationToken) =>
        (await runs.CountAsync(snapshot => [snapshot.Cleaning.ById[unit.Id]], windows, cancellationToken))[0];

    private static double Hardest(UnitTallies tallies, int window, Func<CleaningTally, Duration> length) =>
        tallies.ByRule.Select(rule => length(rule[window]) / Day).DefaultIfEmpty(0).Max();

    private static Interval Window(DateTimeOffset from, DateTimeOffset to) =>
        new(Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(to));

    // Companions are taken for independent of one another.
    private async Task<(double? Chance, string[] Companions)> CompanionsAsync(
        UnitEntry unit, string? position, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        if (position is null || unit.Model.Positions.GetValueOrDefault(position)?.Companions is not { Count: > 0 } companions)
        {
            return (null, []);
        }

        Wear current = await wear.CurrentAsync(asOf, cancellationToken);
        (string Position, double Chance)[] told =
        [
            .. current.ByUnit[unit.Id]
                .Where(life => life.StillFitted && companions.Contains(life.Position, StringComparer.OrdinalIgnoreCase))
                .Select(life => (life.Position, current.Models.Of(life, ChanceDays, withBounds: false).Chance?.Value))
                .Where(pair => pair.Value is not null)
                .Select(pair => (pair.Position, pair.Value!.Value)),
        ];
        return told.Length == 0
            ? (null, [])
            : (1 - told.Aggregate(1.0, (none, one) => none * (1 - one.Chance)), [.. told.Select(one => one.Position)]);
    }
}
