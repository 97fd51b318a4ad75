namespace Washwear.Analytics.Planning;

/// <summary>Two parts of one oven: visits for the one are the opportunities of the other.</summary>
/// <param name="Opener">Life of the part whose failures bring the visits; as new after each.</param>
/// <param name="OpenerAge">Its age now, 0 or more.</param>
/// <param name="Companion">Life of the part that may be swapped while somebody is there.</param>
/// <param name="CompanionAge">Its age now, 0 or more.</param>
/// <param name="VisitCost">Cost of a visit for a failure of the companion, 0 or more.</param>
/// <param name="PartCost">Cost of one companion part, fitted, 0 or more.</param>
/// <param name="DamageCost">What its failure costs beyond that, 0 or more.</param>
/// <param name="UnwashedDaysPerFailure">Days without a wash that its failure brings, 0 or more.</param>
/// <param name="HorizonTime">Time looked ahead, above 0, finite, in the unit of the lives; what comes after counts nothing.</param>
public sealed record CompanionCase(
    WeibullLife Opener,
    double OpenerAge,
    WeibullLife Companion,
    double CompanionAge,
    double VisitCost,
    double PartCost,
    double DamageCost,
    double UnwashedDaysPerFailure,
    double HorizonTime);

/// <summary>What the companion brings within the horizon, on average over the runs.</summary>
/// <param name="Cost">Cost of its failures and swaps; the opener's visits are not in it, as they come anyway.</param>
/// <param name="CostStandardError">Standard error of that mean.</param>
/// <param name="Failures">Failures.</param>
/// <param name="Swaps">Swaps at the opener's visits.</param>
/// <param name="UnwashedDays">Days without a wash.</param>
public sealed record CompanionOutcome(double Cost, double CostStandardError, double Failures, double Swaps, double UnwashedDays);

/// <summary>What a limit saves.</summary>
/// <param name="Limit">Age past which the companion is swapped at a visit; null: never.</param>
/// <param name="Never">Outcome without swaps.</param>
/// <param name="WithLimit">Outcome with the limit.</param>
/// <param name="Saving">Cost saved within the horizon; below 0 where the limit costs more.</param>
/// <param name="SavingStandardError">Standard error of the saving, from the differences run by run.</param>
/// <param name="UnwashedDaysSaved">Days without a wash saved.</param>
public sealed record CompanionSaving(
    double? Limit, CompanionOutcome Never, CompanionOutcome WithLimit, double Saving, double SavingStandardError, double UnwashedDaysSaved);

/// <summary>
/// Plays forward two parts of one oven, from the ages that they have. Visits are the opener's own failures, which are not a Poisson process:
/// they come more evenly, and the money differs from <see cref="OpportunityReplacement"/> by up to a fifth. Both rules see the same visits and
/// the same lives, one after the other, so their difference is known better than either (common random numbers). The same seed gives the
/// same result on every machine. A swap near the end of the horizon is paid in full though its use lies after it, so a horizon of less than
/// the companion's mean life understates what a limit saves.
/// </summary>
public static class CompanionSimulation
{
    private const int MostRuns = 10_000_000;

    // A run stops here: only lives of a shape far below 1, most of them next to nothing, get so far.
    private const int MostEvents = 1_000_000;

    /// <summary>Compares a limit with never swapping.</summary>
    /// <param name="companions">The two parts and their costs.</param>
    /// <param name="limit">Age past which the companion is swapped at a visit, 0 or more; null: never.</param>
    /// <param name="runs">Number of futures, 2 to 10,000,000.</param>
    /// <param name="seed">Seed of the futures.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of range, or the horizon holds over 100,000 mean lives.</exception>
    public static CompanionSaving Run(CompanionCase companions, double? limit, int runs = 20_000, ulong seed = 1)
    {
        ArgumentNullException.ThrowIfNull(companions);
        Require(companions, limit);
        ArgumentOutOfRangeException.ThrowIfLessThan(runs, 2);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(runs, MostRuns);
        Sums never = default, with = default, saved = default;
        for (int run = 0; run < runs; run++)
        {
            (int failures, int swaps) left = Play(companions, double.PositiveInfinity, seed, run);
            (int failures, int swaps) kept = limit is { } age ? Play(companions, age, seed, run) : left;
            never.Add(Cost(companions, left), left);
            with.Add(Cost(companions, kept), kept);
            saved.Add(Cost(companions, left) - Cost(companions, kept), (left.failures - kept.failures, kept.swaps));
        }

        return new(
            limit,
            never.Outcome(companions.UnwashedDaysPerFailure),
            with.Outcome(companions.UnwashedDaysPerFailure),
            saved.Mean,
            saved.StandardError,
            saved.Outcome(companions.UnwashedDaysPerFailure).UnwashedDays);
    }

    private static double Cost(CompanionCase c, (int Failures, int Swaps) counts) =>
        (counts.Failures * (c.VisitCost + c.PartCost + c.DamageCost)) + (counts.Swaps * c.PartCost);

    /// <summary>One future; each part draws its lives from a stream of its own, so that a swap of the one moves nothing of the other.</summary>
    private static (int Failures, int Swaps) Play(CompanionCase c, double limit, ulong seed, int run)
    {
        var openers = SplitMix.Stream(seed, 2 * (ulong)run);
        var companions = SplitMix.Stream(seed, (2 * (ulong)run) + 1);
        double visit = Further(c.Opener, c.OpenerAge, openers.Exponential());
        double born = -c.CompanionAge, fails = Further(c.Companion, c.CompanionAge, companions.Exponential());
        int failures = 0, swaps = 0;
        for (int events = 0; Math.Min(visit, fails) <= c.HorizonTime && events < MostEvents; events++)
        {
            bool failed = fails <= visit;
            double now = failed ? fails : visit;
            if (failed || now - born >= limit)
            {
                (failures, swaps) = failed ? (failures + 1, swaps) : (failures, swaps + 1);
                (born, fails) = (now, now + Further(c.Companion, 0, companions.Exponential()));
            }

            visit = failed ? visit : now + Further(c.Opener, 0, openers.Exponential());
        }

        return (failures, swaps);
    }

    /// <summary>Further life of a part of an age, at which the cumulative hazard has grown by the number drawn.</summary>
    private static double Further(WeibullLife life, double age, double drawn)
    {
        double hazard = life.CumulativeHazard(age);

        // The second form keeps its digits where the further life is short against the age.
        return drawn > hazard
            ? Math.Max(0, (life.Scale * Math.Pow(hazard + drawn, 1 / life.Shape)) - age)
            : age * Numerics.Elementary.ExpMinusOne(Numerics.Elementary.LogOnePlus(drawn / hazard) / life.Shape);
    }

    private static void Require(CompanionCase c, double? limit)
    {
        foreach ((double value, string name) in (ReadOnlySpan<(double, string)>)
        [
            (c.OpenerAge, nameof(c.OpenerAge)), (c.CompanionAge, nameof(c.CompanionAge)), (c.VisitCost, nameof(c.VisitCost)),
            (c.PartCost, nameof(c.PartCost)), (c.DamageCost, nameof(c.DamageCost)),
            (c.UnwashedDaysPerFailure, nameof(c.UnwashedDaysPerFailure)), (limit ?? 0, nameof(limit)),
        ])
        {
            if (!double.IsFinite(value) || value < 0)
            {
                throw new ArgumentOutOfRangeException(name, value, "It must be a finite number, 0 or more.");
            }
        }

        double shortest = Math.Min(c.Opener.Mean, c.Companion.Mean);
        if (!double.IsFinite(c.HorizonTime) || c.HorizonTime <= 0 || c.HorizonTime > 100_000 * shortest)
        {
            throw new ArgumentOutOfRangeException(
                nameof(c), c.HorizonTime, "The horizon must be above 0 and at most 100,000 mean lives of either part.");
        }
    }

    /// <summary>Running mean and variance (Welford 1962, Technometrics 4, 419) of the cost, and sums of what happened.</summary>
    private struct Sums
    {
        private int _runs;
        private double _squares;
        private double _failures;
        private double _swaps;

        public double Mean { get; private set; }

        public readonly double StandardError => Math.Sqrt(_squares / (_runs - 1) / _runs);

        public void Add(double cost, (int Failures, int Swaps) counts)
        {
            _runs++;
            double off = cost - Mean;
            Mean += off / _runs;
            _squares += off * (cost - Mean);
            _failures += counts.Failures;
            _swaps += counts.Swaps;
        }

        public readonly CompanionOutcome Outcome(double unwashedDaysPerFailure) =>
            new(Mean, StandardError, _failures / _runs, _swaps / _runs, _failures / _runs * unwashedDaysPerFailure);
    }
}
