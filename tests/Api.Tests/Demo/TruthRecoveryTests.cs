using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Api.Demo;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Demo;

/// <summary>What the simulation claims to be true, found again in the lives that it lived. Seeds 1 to 20.</summary>
[Trait("Category", "Slow")]
public class TruthRecoveryTests(ITestOutputHelper output)
{
    private const int Seeds = 20;
    private const double AllowedChance = 0.001;

    private static readonly Lazy<PartLifeTruth[][]> LivesBySeed = new(() =>
        [.. Enumerable.Range(1, Seeds).Select(seed => Fleets.Of(seed).Truth().SelectMany(unit => unit.Lives).ToArray())]);

    /// <remarks>
    /// Failures minus the true cumulative hazard that the parts ran through is a martingale (Andersen, Borgan, Gill and Keiding 1993,
    /// Statistical Models Based on Counting Processes, II.4): its mean is 0 and its variance is that hazard, whatever the censoring and the
    /// delayed entry, as long as both look only at the past. So this fails if a life is drawn wrongly, and if a swap knows the future.
    /// </remarks>
    [Fact]
    public void Failures_are_as_many_as_the_true_hazard_promises_at_every_position()
    {
        var groups = LivesBySeed.Value.SelectMany(lives => lives).Where(HasLength).GroupBy(life => (life.Position, life.Wear.Kind));
        double limit = -Normal.InvCDF(0, 1, AllowedChance / 2 / PartWear.Table.Count);
        foreach (var group in groups)
        {
            double failures = group.Count(life => life.FailedAt is not null);
            double hazard = group.Sum(life => Hazard(life, Exit(life)) - Hazard(life, Entry(life)));
            double z = (failures - hazard) / Math.Sqrt(hazard);
            output.WriteLine($"{group.Key.Position}, {group.Key.Kind}: {failures} failures, {hazard:F1} expected, z {z:F2}");
            Assert.True(Math.Abs(z) < limit, $"{group.Key}: {failures} failures, {hazard:F1} expected");
        }
    }

    [Theory]
    [InlineData("wash-pump")]
    [InlineData("suction-hose")]
    public void The_fit_finds_shape_and_scale_within_its_bounds_as_often_as_it_says(string position)
    {
        int shapeMissed = 0;
        int scaleMissed = 0;
        foreach (PartLifeTruth[] lives in LivesBySeed.Value)
        {
            PartLifeTruth[] known = [.. lives.Where(life => life.Position == position && life.StartReported && HasLength(life))];
            PartWear truth = known[0].Wear;
            var fit = Assert.IsType<FittedLife>(WeibullFit.Fit(Lives(known)));
            shapeMissed += Holds(WeibullBounds.Shape(fit), truth.Shape) ? 0 : 1;
            scaleMissed += Holds(WeibullBounds.Scale(fit), truth.Scale) ? 0 : 1;
        }

        int allowed = Enumerable.Range(0, Seeds).First(misses => Binomial.CDF(0.05, Seeds, misses) >= 1 - AllowedChance);
        output.WriteLine($"{position}: of {Seeds} 95 % bounds, {shapeMissed} miss the shape and {scaleMissed} the scale; {allowed} may");
        Assert.InRange(shapeMissed, 0, allowed);
        Assert.InRange(scaleMissed, 0, allowed);
    }

    private static bool Holds(Estimate estimate, double truth) =>
        (estimate.Lower is not { } lower || truth >= lower) && (estimate.Upper is not { } upper || truth <= upper);

    private static Lives Lives(IEnumerable<PartLifeTruth> lives)
    {
        var builder = new LivesBuilder("its own clock");
        foreach (PartLifeTruth life in lives)
        {
            _ = life.FailedAt is null ? builder.StillRunningAt(Exit(life), Entry(life)) : builder.FailedAt(Exit(life), Entry(life));
        }

        return builder.Build();
    }

    private static double Hazard(PartLifeTruth life, double age) => Math.Pow(age / life.Wear.Scale, life.Wear.Shape);

    private static double Entry(PartLifeTruth life) => life.Wear.Clock == WearClock.Days ? life.EntryDays : life.EntryWashes;

    private static double Exit(PartLifeTruth life) => life.Wear.Clock == WearClock.Days ? life.ExitDays : life.ExitWashes;

    // A part that had failed before it came under observation, unseen, or that never ran, tells nothing.
    private static bool HasLength(PartLifeTruth life) => Exit(life) > Entry(life);
}
