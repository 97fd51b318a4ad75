using Washwear.Analytics.PartLife;
using Washwear.Analytics.Rates;
using Washwear.Analytics.Faults;
using Washwear.Analytics.Repeats;

namespace Washwear.Benchmarks.Repeats;

/// <summary>
/// Lists of units that wear parts out, on fleets of which the truth is known, against lists of the same length by raw counts and raw rates;
/// and the time of the fits behind them. The false discovery proportion of an empty list is 0.
/// </summary>
internal static class RepeatsBenchmark
{
    private const double Stated = 0.10;
    private const int Fleets = 40;
    private const long MillisecondsPerDay = 86_400_000;

    public static Task RunAsync(int? fleets = null)
    {
        int count = fleets ?? Fleets;
        foreach ((double badShare, double ratio, double lifeShare) in new[] { (0.05, 4.0, 1.0), (0.05, 8.0, 1.0), (0.15, 4.0, 1.0), (0.05, 1.0, 1.0 / 3), (0.15, 1.0, 1.0 / 3), (0.0, 1.0, 1.0) })
        {
            Scores[] all = [.. Enumerable.Range(1, count).Select(seed => Score(new RenewedFleet(seed, badShare, ratio, lifeShare)))];
            Report.Line($"{count} fleets of {RenewedFleet.Units} units, {RenewedFleet.Lives.Length} positions, {badShare:P0} of units bad at one: {(lifeShare < 1 ? FormattableString.Invariant($"parts last {lifeShare:P0} as long") : FormattableString.Invariant($"{ratio:G}-fold hazard"))}");
            Print("excess failures", all.Select(s => s.Excess), badShare > 0);
            Print("repeats by place", all.Select(s => s.Repeats), badShare > 0);
            if (badShare > 0)
            {
                Report.Line($"  same number by raw count: recall {all.Average(s => s.ByCount):P1}; by raw rate {all.Average(s => s.ByRate):P1}; by rate against the position's mean {all.Average(s => s.ByRelativeRate):P1}");
                Report.Line($"  chance above the fleet >= 95 %: {all.Average(s => s.Sure.Listed):F1} places, false {all.Average(s => s.Sure.FalseShare):P1}, recall {all.Average(s => s.Sure.Recall):P1}");
                Report.Line($"  longest list by p-value with at most {Stated:P0} false, cut by one who knows the truth: recall {all.Average(s => s.Oracle):P1}");
                Report.Against("  recall against the best raw ranking", all.Average(s => s.Excess.Recall), all.Average(s => Math.Max(s.ByCount, Math.Max(s.ByRate, s.ByRelativeRate))), least: true);
            }
        }

        Times();
        return Task.CompletedTask;
    }

    private static void Print(string what, IEnumerable<Listing> listings, bool anyBad)
    {
        Listing[] all = [.. listings];
        Report.Line($"  {what}: {all.Average(l => l.Listed):F1} places listed{(anyBad ? FormattableString.Invariant($", recall {all.Average(l => l.Recall):P1}, precision over all lists together {(double)all.Sum(l => l.True) / Math.Max(1, all.Sum(l => l.Listed)):P1}, at a stated false discovery rate of {Stated:P0}") : "")}");
        Report.Against($"  {what}: mean false discovery proportion", all.Average(l => l.FalseShare), Stated, least: false);
    }

    private static Scores Score(RenewedFleet fleet)
    {
        Weibull[] curves = [.. Enumerable.Range(0, RenewedFleet.Lives.Length).Select(fleet.Fitted)];
        WatchedFailures[] rows = fleet.Rows(curves);
        IReadOnlyList<Excess> excess = ExcessFailures.Test(rows, Stated);
        Listing called = Listing.Of(fleet, excess.Where(e => e.Called).Select(e => (e.Group, e.Position)));
        double Years(WatchedFailures row) => (RenewedFleet.WatchedDays - fleet.BeganOnDay[row.Group]) / 365.25;
        var rate = rows.GroupBy(r => r.Position).ToDictionary(g => g.Key, g => g.Sum(r => r.Failures) / g.Sum(Years));
        return new Scores(
            called,
            Listing.Of(fleet, RepeatPlaces(fleet, curves)),
            Listing.Of(fleet, excess.Where(e => e.Shrunken?.ChanceAboveFleet >= 0.95).Select(e => (e.Group, e.Position))),
            Oracle(fleet, excess),
            Ranked(fleet, rows, called.Listed, row => row.Failures),
            Ranked(fleet, rows, called.Listed, row => row.Failures / Years(row)),
            Ranked(fleet, rows, called.Listed, row => row.Failures / Years(row) / rate[row.Position]));
    }

    private static double Oracle(RenewedFleet fleet, IReadOnlyList<Excess> excess)
    {
        int listed = 0, found = 0, best = 0;
        foreach (Excess one in excess.OrderBy(e => e.PValue ?? 1))
        {
            listed++;
            found += fleet.Bad.Contains((one.Group, one.Position)) ? 1 : 0;
            best = listed - found <= Stated * listed ? found : best;
        }

        return fleet.Bad.Count == 0 ? 0 : (double)best / fleet.Bad.Count;
    }

    private static IEnumerable<(int Unit, int Position)> RepeatPlaces(RenewedFleet fleet, Weibull[] curves)
    {
        static long Ms(double day) => (long)(day * MillisecondsPerDay);
        WatchedPart[] failed = [.. fleet.Parts.Where(p => p.Failed)];
        RepairDone[] repairs = [.. failed.Select(p => new RepairDone(p.Unit, p.Position, Ms(p.EndsOnDay), Ms(RenewedFleet.WatchedDays)))];
        FailureSeen[] failures = [.. failed.Select(p => new FailureSeen(p.Unit, Ms(p.EndsOnDay), p.Position))];
        var model = new RepeatModel((repair, days) => curves[repair.Position].FailedBy(days), _ => null, [], []);
        RepeatResult found = RepeatFailures.Find(repairs, failures, model, new RepeatOptions(FalseDiscoveryRate: Stated));
        return found.Places.Where(p => p.Called).Select(p => (p.Unit, p.Key));
    }

    /// <summary>Share of the bad ones among the first so many; of places that tie for the last of them, each counts as its share.</summary>
    private static double Ranked(RenewedFleet fleet, WatchedFailures[] rows, int places, Func<WatchedFailures, double> by)
    {
        double found = 0;
        int left = places;
        foreach (WatchedFailures[] tie in rows.GroupBy(by).OrderByDescending(g => g.Key).Select(g => g.ToArray()))
        {
            found += tie.Count(r => fleet.Bad.Contains((r.Group, r.Position))) * Math.Min(1.0, (double)left / tie.Length);
            left -= Math.Min(left, tie.Length);
        }

        return fleet.Bad.Count == 0 ? 0 : found / fleet.Bad.Count;
    }

    private static void Times()
    {
        var random = new Random(3);
        double[] exposures = [.. Enumerable.Range(0, 10_000).Select(_ => 0.1 + (3 * random.NextDouble()))];
        int[] counts = [.. exposures.Select(t => MathNet.Numerics.Distributions.Poisson.Sample(random, t * MathNet.Numerics.Distributions.Gamma.Sample(random, 1.5, 1)))];
        Report.Against("gamma-Poisson fit of 10,000 units, ms", 1e3 * Report.MedianSeconds(5, () => GammaPoisson.Fit(counts, exposures)), 50, least: false);
        RaisedFault[] faults = [.. Enumerable.Range(0, 200_000).Select(_ => Fault(random))];
        UnitRepair[] repairs = [.. Enumerable.Range(0, 20_000).Select(_ => new UnitRepair(random.Next(10_000), random.Next(1100) * MillisecondsPerDay))];
        Report.Against("200,000 faults to episodes, ms", 1e3 * Report.MedianSeconds(5, () => FaultEpisodes.Group(faults, repairs)), 100, least: false);
    }

    private static RaisedFault Fault(Random random)
    {
        long raised = (long)(random.NextDouble() * 1100 * MillisecondsPerDay);
        return new RaisedFault(random.Next(10_000), random.Next(8), raised, raised + (random.Next(48) * 3_600_000L), random.Next(2) == 0);
    }

    private readonly record struct Listing(int Listed, int True, int Bad)
    {
        public double FalseShare => Listed == 0 ? 0 : (double)(Listed - True) / Listed;

        public double Recall => Bad == 0 ? 0 : (double)True / Bad;

        public static Listing Of(RenewedFleet fleet, IEnumerable<(int Unit, int Position)> places)
        {
            (int, int)[] listed = [.. places];
            return new Listing(listed.Length, listed.Count(fleet.Bad.Contains), fleet.Bad.Count);
        }
    }

    private sealed record Scores(Listing Excess, Listing Repeats, Listing Sure, double Oracle, double ByCount, double ByRate, double ByRelativeRate);
}
