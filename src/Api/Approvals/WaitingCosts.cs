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

/// <summary>An approval that waits.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="AskedAt">When it was asked for; null: not known.</param>
/// <param name="Position">Position at fault; null: not known.</param>
/// <param name="Waits">Whether the unit's lockout waits for an approval now; null: nothing is heard from it.</param>
internal sealed record OpenWait(UnitEntry Unit, DateTimeOffset? AskedAt, string? Position, bool? Waits);

/// <summary>Counts what waiting for approvals costs, by the computations of cleaning and of part life and by no other.</summary>
/// <param name="runs">Where every unit stands.</param>
/// <param name="wear">Fitted parts.</param>
public sealed class WaitingCosts(FleetRuns runs, FleetWear wear)
{
    private const double ChanceDays = 30;
    private static readonly Duration Week = Duration.FromDays(7);
    private static readonly Duration Day = Duration.FromDays(1);

    /// <summary>Days overdue and charged to the wait for an approval in a stretch of time, under each unit's hardest rule.</summary>
    /// <param name="waits">Units, when it was asked for and when it was decided.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    internal async Task<IReadOnlyList<double>> UnwashedDaysAsync(
        IReadOnlyList<(UnitEntry Unit, DateTimeOffset? From, DateTimeOffset To)> waits, CancellationToken cancellationToken)
    {
        (UnitEntry Unit, DateTimeOffset? From, DateTimeOffset To)[] known = [.. waits.Where(wait => wait.From < wait.To)];
        var days = new Queue<double>((await runs.CountEachAsync(
            [.. known.Select(wait => (wait.Unit.Id, new Interval(Instant.FromDateTimeOffset(wait.From!.Value), Instant.FromDateTimeOffset(wait.To))))], cancellationToken))
            .Select(tallies => Hardest(tallies, tally => tally.Of(Cause.LockoutWaitingApproval))));
        return [.. waits.Select(wait => wait.From < wait.To ? days.Dequeue() : 0)];
    }

    /// <summary>What open approvals cost.</summary>
    /// <param name="waits">The approvals.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>One cost each.</returns>
    internal async Task<IReadOnlyList<WaitingCost>> OfAsync(IReadOnlyList<OpenWait> waits, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<double> soFar = await UnwashedDaysAsync([.. waits.Select(wait => (wait.Unit, wait.AskedAt, asOf))], cancellationToken);
        IReadOnlyDictionary<int, double> ahead = await AheadAsync(
            [.. waits.Where(wait => wait.Waits == true).Select(wait => wait.Unit.Id).Distinct()], Instant.FromDateTimeOffset(asOf), cancellationToken);
        Wear current = await wear.CurrentAsync(asOf, cancellationToken);
        return
        [
            .. waits.Select((wait, i) =>
            {
                (double? chance, string[] companions) = Companions(current, wait.Unit, wait.Position);
                double? next = wait.Waits switch
                {
                    null => null,
                    false => 0,
                    true => ahead[wait.Unit.Id],
                };
                return new WaitingCost(soFar[i], next, chance, companions);
            }),
        ];
    }

    // When nothing happens the unit is not heard either: silence that begins ahead is the wait going on.
    private async Task<IReadOnlyDictionary<int, double>> AheadAsync(IReadOnlyList<int> units, Instant now, CancellationToken cancellationToken) =>
        (await runs.CountEachAsync([.. units.Select(unit => (unit, new Interval(now, now + Week)))], cancellationToken))
            .ToDictionary(tallies => tallies.Unit.Unit.Id, tallies => Hardest(tallies, tally => tally.Of(Cause.LockoutWaitingApproval) + tally.Of(Cause.Silent)));

    private static double Hardest(UnitTallies tallies, Func<CleaningTally, Duration> length) =>
        tallies.ByRule.Select(rule => length(rule[0]) / Day).DefaultIfEmpty(0).Max();

    // Companions are taken for independent of one another.
    private static (double? Chance, string[] Companions) Companions(Wear current, UnitEntry unit, string? position)
    {
        if (position is null || unit.Model.Positions.GetValueOrDefault(position)?.Companions is not { Count: > 0 } companions)
        {
            return (null, []);
        }

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
