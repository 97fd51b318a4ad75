using System.Runtime.ExceptionServices;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Repeats;

/// <summary>Failures of a unit, or of a batch, at a position, and what the fleet's life model expects of it.</summary>
/// <param name="Group">The caller's number of the unit or batch.</param>
/// <param name="Position">The caller's number of the position.</param>
/// <param name="Failures">Failures seen, 0 or more.</param>
/// <param name="Expected">Failures expected: the sum over all its parts of H(last age) - H(age when first watched), H the cumulative hazard of the
/// position's life; the last age is that of the failure, or of the part's removal, or today's. 0 or more.</param>
public readonly record struct WatchedFailures(int Group, int Position, int Failures, double Expected);

/// <summary>How far a unit or batch lies above its position's others. Bounds are computed when asked for: of tens of thousands of places few
/// are looked at.</summary>
/// <param name="Group">The caller's number of the unit or batch.</param>
/// <param name="Position">The caller's number of the position.</param>
/// <param name="Failures">Failures seen.</param>
/// <param name="Expected">Failures expected.</param>
/// <param name="PValue">Chance of so many or more if no group differs; null where no comparison is possible.</param>
/// <param name="AdjustedPValue">The same for the false discovery rate over all; null as above.</param>
/// <param name="Called">True when the adjusted value reaches the false discovery rate.</param>
public sealed record Excess(
    int Group, int Position, int Failures, double Expected, double? PValue, double? AdjustedPValue, bool Called)
{
    /// <summary>Seen by expected with exact Poisson bounds; null where nothing was watched.</summary>
    public Estimate? Ratio => ExcessFailures.Ratio(Failures, Expected, Level);

    /// <summary>The same drawn towards the position's others, with the chance that it is truly above them; null where nothing was watched, and
    /// without a failure, which leaves nothing to call.</summary>
    public UnitRate? Shrunken
    {
        get => field ??= Failures > 0 && ExcessFailures.Watched(Expected) > 0 ? Others?.Posterior(Failures, Expected, Level) : null;
        init;
    }

    internal FleetRate? Others { get; init; }

    internal double Level { get; init; }
}

/// <summary>
/// Which units wear parts out faster, and which batches are bad: the failures seen against the cumulative hazard that the fleet's life model
/// adds up over the parts watched. A unit with new parts, or few washes, is thus expected to have few. If no group differs, the failures seen at a position
/// fall on its groups in proportion to what is expected of each, so a group's count given all of them is binomial (<see cref="ExcessCount"/>);
/// a model that is out by a factor changes nothing. That counts against the summed hazard behave as Poisson counts is exact when
/// watching stops at a failure and close when it stops at a date (Aalen 1978, Annals of Statistics 6, 701-726; the one-sample log-rank
/// test, Berry 1983, Biometrics 39, 173-184); the benchmark 'repeats' measures it. Benjamini and Hochberg over all groups and positions; the
/// model is fitted to a fleet with the bad ones in it, which hides a little of their excess.
/// </summary>
public static class ExcessFailures
{
    private const double LeastExpected = 1e-90;

    /// <summary>Tests every row; results in the order given.</summary>
    /// <param name="rows">One row a group and position.</param>
    /// <param name="falseDiscoveryRate">Share of the calls that may be wrong on average, above 0 and below 1.</param>
    /// <param name="level">Level of the bounds, above 0 and below 1.</param>
    /// <exception cref="ArgumentException">A number lies outside its range, or a group and position stands twice.</exception>
    public static IReadOnlyList<Excess> Test(IReadOnlyList<WatchedFailures> rows, double falseDiscoveryRate = 0.10, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(rows);
        RepeatOptions.RequireShare(falseDiscoveryRate, nameof(falseDiscoveryRate));
        RepeatOptions.RequireShare(level, nameof(level));
        if (rows.Select(r => (r.Group, r.Position)).Distinct().Count() != rows.Count)
        {
            throw new ArgumentException("A group and position stands in two rows.", nameof(rows));
        }

        double?[] pValues = new double?[rows.Count];
        FleetRate?[] others = new FleetRate?[rows.Count];
        try
        {
            // Positions do not depend on each other, and each writes its own rows.
            Parallel.ForEach(
                Enumerable.Range(0, rows.Count).GroupBy(i => rows[i].Position).Select(g => g.ToArray()),
                position => OfPosition(rows, position, pValues, others));
        }
        catch (AggregateException refused)
        {
            ExceptionDispatchInfo.Throw(refused.InnerExceptions[0]);
        }

        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust(pValues);
        return
        [
            .. rows.Select((row, i) => new Excess(
                row.Group, row.Position, row.Failures, row.Expected, pValues[i], adjusted[i], adjusted[i] <= falseDiscoveryRate)
            {
                Others = others[i],
                Level = level,
            }),
        ];
    }

    /// <summary>Seen by expected with exact Poisson bounds (Ulm 1990, American J. of Epidemiology 131, 373-375); null when nothing is expected.</summary>
    internal static Estimate? Ratio(int seen, double expected, double level) => PoissonRate.Exact(seen, Watched(expected), level);

    internal static double Watched(double expected) => expected is >= 0 and < LeastExpected ? 0 : expected;

    private static void OfPosition(
        IReadOnlyList<WatchedFailures> rows, int[] position, double?[] pValues, FleetRate?[] others)
    {
        int[] failures = [.. position.Select(i => rows[i].Failures)];

        // A hazard that has all but vanished, of a part just fitted, is none.
        double[] expected = [.. position.Select(i => Watched(rows[i].Expected))];
        IReadOnlyList<double?> chances = ExcessCount.PValues(failures, expected);
        FleetRate fleet = GammaPoisson.Fit(failures, expected);
        for (int k = 0; k < position.Length; k++)
        {
            pValues[position[k]] = chances[k];
            others[position[k]] = fleet;
        }
    }
}
