using Washwear.Analytics.Cleaning;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;

namespace Washwear.Benchmarks.EarlySigns;

/// <summary>
/// How long before its lockout a weakening pump is called, and how often a sound unit is called, on fleets of which the truth is known. A
/// call is the first wash at which a sign stands; one between the first weak wash of a pump and the lockout is early, one of a unit in which
/// nothing is weak or failed is false.
/// </summary>
internal static class DetectionBenchmark
{
    private const int DaysAhead = 5;
    private const double LeastShareAhead = 0.8;
    private static readonly int[] Seeds = [11, 12, 13, 14, 15];
    private static readonly DateTimeOffset AsOf = new(2026, 3, 4, 13, 0, 0, TimeSpan.Zero);

    public static Task RunAsync()
    {
        Detection[] units = [.. Seeds.SelectMany(OfSeed)];
        double[] ahead = [.. units.SelectMany(unit => unit.DaysAhead)];
        double years = units.Sum(unit => unit.SoundYears);
        Report.Line($"{Seeds.Length} fleets, {units.Length} units, {years:F0} sound unit-years charted, {ahead.Length} lockouts by a weak pump");
        Report.Line($"called before the lockout: {Share(ahead, 0):P1}; median days ahead of those called: {Median(ahead.Where(days => days > 0)):F1}");
        Report.Against($"share called at least {DaysAhead} days ahead", Share(ahead, DaysAhead), LeastShareAhead, least: true);
        foreach (SignKind kind in Enum.GetValues<SignKind>())
        {
            double stated = units.Sum(unit => unit.Stated[(int)kind]) / years;
            Report.Line($"{kind}: {units.Sum(unit => unit.FalseCalls.Count(call => call == kind)) / years:F3} false calls a unit-year, {stated:F3} stated; {units.Sum(unit => unit.TrueCalls.Count(call => call == kind))} calls while a pump was weak or a part failed");
        }

        double asked = EarlySignOptions.Usual.FalseAlarmsPerYear;
        double bad = units.Sum(unit => unit.FalseCalls.Count(call => call == SignKind.BadWashes)) / years;
        double durations = units.Sum(unit => unit.FalseCalls.Count(call => call != SignKind.BadWashes)) / years;
        Report.Against("false alarms a unit-year, bad washes", bad, asked, least: false);
        Report.Against("false alarms a unit-year, durations (both sides)", durations, asked, least: false);
        return Task.CompletedTask;
    }

    private static IEnumerable<Detection> OfSeed(int seed)
    {
        SimulatedFleet fleet = FleetSimulator.Simulate(seed, AsOf, new SimulationOptions(StageTheEnd: false));
        ILookup<string, IncomingRecord> records = fleet.Records().DistinctBy(record => (record.Source, record.Key)).ToLookup(record => record.Unit);
        return [.. fleet.Truth().Select(truth => Detection.Of(truth, records[truth.Unit]))];
    }

    private static double Share(double[] ahead, double days) => (double)ahead.Count(one => one > 0 && one >= days) / ahead.Length;

    private static double Median(IEnumerable<double> values) => values.Order().ToArray() is { Length: > 0 } sorted ? sorted[sorted.Length / 2] : double.NaN;
}
