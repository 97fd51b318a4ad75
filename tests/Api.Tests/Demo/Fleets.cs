using Washwear.Api.Demo;

namespace Washwear.Api.Tests.Demo;

/// <summary>Invented fleets as of one fixed instant, a Wednesday afternoon.</summary>
internal static class Fleets
{
    internal static readonly DateTimeOffset AsOf = new(2026, 3, 4, 13, 0, 0, TimeSpan.Zero);

    internal static SimulatedFleet Of(int seed, int units = 140, int years = 3, bool staged = true) =>
        FleetSimulator.Simulate(seed, AsOf, new SimulationOptions(units, years, staged));
}
