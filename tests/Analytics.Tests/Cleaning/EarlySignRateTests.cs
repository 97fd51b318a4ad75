using MathNet.Numerics.Distributions;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Xunit.Abstractions;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Sound units, simulated: their calls come at the rate that the charts state, although nobody told the charts what is sound.</summary>
public sealed class EarlySignRateTests(ITestOutputHelper output)
{
    private const int Units = 400;
    private const int Washes = 1500;
    private const double BadShare = 0.015;
    private static readonly Instant Start = Instant.FromUtc(2025, 1, 1, 22, 0);

    [Fact]
    public void Sound_units_are_called_at_the_rate_that_is_stated()
    {
        var random = new Random(20261125);
        (double badCalls, double badStated, double durationCalls, double durationStated) = (0, 0, 0, 0);
        for (int unit = 0; unit < Units; unit++)
        {
            UnitSigns signs = UnitSigns.Blank;
            for (int day = 0; day < Washes; day++)
            {
                UnitSigns before = signs;
                signs = Wash(before, day, random);
                badCalls += Calls(before.Bad.Sum, signs.Bad.Sum);
                durationCalls += Calls(before.Durations.Longer, signs.Durations.Longer) + Calls(before.Durations.Shorter, signs.Durations.Shorter);
                badStated += Chance(before.Bad.Sum);
                durationStated += Chance(before.Durations.Longer) + Chance(before.Durations.Shorter);
            }
        }

        output.WriteLine($"bad washes: {badCalls} calls, {badStated:F0} stated; durations: {durationCalls} calls, {durationStated:F0} stated");

        // Scores of durations are standard normal: four standard errors of a count. The share of bad washes is estimated, and rounded up,
        // so that calls are rather fewer than stated.
        Assert.InRange(durationCalls / durationStated, 1 - (4 / Math.Sqrt(durationStated)), 1 + (4 / Math.Sqrt(durationStated)));
        Assert.InRange(badCalls / badStated, 0.3, 1 + (2 / Math.Sqrt(badStated)));
    }

    [Fact]
    public void Scores_of_a_sound_unit_are_standard_normal_from_the_first_on()
    {
        var random = new Random(7);
        var scores = new List<double>();
        for (int unit = 0; unit < 4000; unit++)
        {
            var known = ProgrammeDurations.Begin("A");
            while (!known.IsKnown)
            {
                known = known.LearnFirst(Minutes(random), 10);
            }

            scores.Add(known.Score(Minutes(random)));
        }

        output.WriteLine($"mean {scores.Average():F3}, variance {scores.Average(x => x * x):F3}, beyond 1.96: {scores.Count(x => Math.Abs(x) > 1.96) / 4000.0:P2}");
        Assert.InRange(scores.Average(), -4 / Math.Sqrt(4000), 4 / Math.Sqrt(4000));
        Assert.InRange(scores.Average(x => x * x), 0.9, 1.1);
        Assert.InRange(scores.Count(x => Math.Abs(x) > 1.959964) / 4000.0, 0.05 - (4 * 0.00345), 0.05 + (4 * 0.00345));
    }

    private static double Minutes(Random random) => 90 + (2.7 * Normal.Sample(random, 0, 1));

    private static UnitSigns Wash(UnitSigns signs, int day, Random random)
    {
        var at = new ObservedWash(Start + Duration.FromDays(day), random.NextDouble() < BadShare, "A", Minutes(random));
        return signs.Add(at, EarlySignOptions.Usual);
    }

    private static int Calls(SignSum before, SignSum after) => after.IsCalled && !before.IsCalled ? 1 : 0;

    // A charted wash with no sign standing is called with this chance, on average.
    private static double Chance(SignSum sum) => sum.Limit > 0 && !sum.IsCalled ? 1 / sum.WashesBetweenFalseAlarms : 0;
}
