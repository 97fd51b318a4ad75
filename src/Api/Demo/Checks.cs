using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>The diagnostic steps of the invented fault catalogue.</summary>
internal static class Checks
{
    private static readonly FaultCheckResource[] All =
    [
        new("pump-by-ear", "Run the rinse and listen at the pump: steady, rough, or silent", 3,
            [Positions.WashPump], 0.30, 0.15, ["water", "hot"]),
        new("pump-current", "Measure the pump current against the plate", 8, [Positions.WashPump], 0.08, 0.04, ["electric"]),
        new("pump-by-hand", "Isolate, then turn the pump shaft by hand", 12, [Positions.WashPump], 0.10, 0.02, ["electric", "moving"]),
        new("hoses-by-hand", "Bend both pump hoses and look for cracks and wet ends", 6,
            [Positions.SuctionHose, Positions.DeliveryHose], 0.10, 0.03, ["water", "hot", "caustic"]),
        new("drip-tray", "Dry the drip tray, run a rinse, and see where water comes from", 10,
            [Positions.DeliveryHose, Positions.WashPump], 0.07, 0.05, ["water", "hot"]),
        new("spray-arm-by-hand", "Turn the spray arm by hand and look through its nozzles", 4,
            [Positions.SprayArm], 0.08, 0.03, ["hot", "caustic"]),
        new("drain-by-clock", "Time how long ten litres take to drain", 6, [Positions.DrainValve], 0.10, 0.10, ["hot", "caustic"]),
        new("drain-opened", "Take the drain valve off and look at seat and spindle", 20,
            [Positions.DrainValve], 0.03, 0.01, ["electric", "caustic"]),
        new("fill-by-clock", "Time the filling and look at the strainer", 5, [Positions.FillValve], 0.12, 0.08, ["water"]),
        new("fill-coil", "Measure the resistance of the fill valve's coil", 7, [Positions.FillValve], 0.15, 0.02, ["electric"]),
        new("element-resistance", "Measure each heating circuit, and against earth", 10,
            [Positions.HeatingElement], 0.04, 0.02, ["electric"]),
        new("flame-seen", "Watch the burner light through the sight glass", 6, [Positions.Burner], 0.12, 0.05, ["gas", "hot"]),
        new("burner-opened", "Close the gas, take the burner out and look at electrode and ports", 30,
            [Positions.Burner], 0.03, 0.02, ["gas", "electric"]),
        new("gasket-paper", "Close the door on a strip of paper at eight places and pull", 4, [Positions.DoorGasket], 0.10, 0.10, ["hot"]),
    ];

    /// <summary>What is measured, in which unit of measure, from a sound part and from a failed one.</summary>
    internal static readonly IReadOnlyDictionary<string, Reading> Readings = new Dictionary<string, Reading>
    {
        ["pump-current"] = new("A", (1.6, 2.2), (2.7, 4.4)),
        ["drain-by-clock"] = new("s", (12, 24), (45, 120)),
        ["fill-by-clock"] = new("s", (35, 70), (140, 300)),
        ["fill-coil"] = new("kΩ", (3.6, 4.4), (0.1, 1.5)),
        ["element-resistance"] = new("Ω", (18, 25), (300, 2000)),
    };

    /// <summary>The checks that speak of any of these positions; of each, only the positions that the model has.</summary>
    internal static IReadOnlyList<FaultCheckResource> For(IReadOnlyCollection<string> positions, IReadOnlyList<string> onModel) =>
    [
        .. All.Where(check => check.Positions.Any(positions.Contains))
            .Select(check => check with { Positions = [.. check.Positions.Where(onModel.Contains)] }),
    ];

    /// <summary>Limits of what is read.</summary>
    internal sealed record Reading(string UnitOfMeasure, (double Low, double High) Sound, (double Low, double High) Failed);
}
