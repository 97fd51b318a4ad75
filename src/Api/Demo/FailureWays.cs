namespace Washwear.Api.Demo;

/// <summary>One way in which a position fails, and the fault that it raises; without a fault it is only seen by looking.</summary>
/// <param name="Share">Share of the position's failures, 0 to 1.</param>
/// <param name="PriorWeight">What the catalogue believes, in past cases; near the truth, not equal to it.</param>
internal sealed record FailureWay(
    string Position, string Mode, string Mechanism, string Cause, double Share, string? Fault, double PriorWeight);

/// <summary>The one table from which come both what happens to parts and what the fault catalogue says of it.</summary>
internal static class FailureWays
{
    internal const string Blocked = "blocked";

    internal static readonly FailureWay[] OfParts =
    [
        new(Positions.WashPump, "weak-flow", "wear", "impeller worn", 0.6, FaultCodes.FlowLow, 9),
        new(Positions.WashPump, "seized", "scale", "bearing scaled up", 0.25, FaultCodes.PumpOverload, 5),
        new(Positions.WashPump, "leaking", "wear", "shaft seal worn", 0.15, FaultCodes.LeakFound, 3),
        new(Positions.DrainValve, "slow", "scale", "scale on the seat", 0.6, FaultCodes.DrainSlow, 8),
        new(Positions.DrainValve, "stuck-open", "wear", "spindle worn", 0.4, FaultCodes.LevelLost, 4),
        new(Positions.FillValve, "stuck-closed", "electrical", "coil burnt", 0.7, FaultCodes.FillTimeout, 6),
        new(Positions.FillValve, "stuck-open", "debris", "seat scored", 0.3, FaultCodes.FillRunsOn, 4),
        new(Positions.SuctionHose, "torn", "ageing", "hardened and split", 0.65, FaultCodes.FlowLow, 3),
        new(Positions.SuctionHose, "seeping", "ageing", "clamp end cracked", 0.35, null, 1),
        new(Positions.DeliveryHose, "torn", "ageing", "hardened and split", 0.65, FaultCodes.LeakFound, 6),
        new(Positions.DeliveryHose, "seeping", "ageing", "clamp end cracked", 0.35, null, 1),
        new(Positions.SprayArm, "stuck", "wear", "bearing worn", 0.5, FaultCodes.RotorStill, 5),
        new(Positions.SprayArm, "sagging", "wear", "bush worn", 0.5, null, 1),
        new(Positions.HeatingElement, "open-circuit", "electrical", "element burnt through", 0.7, FaultCodes.HeatShort, 6),
        new(Positions.HeatingElement, "earth-leak", "electrical", "moisture in the element", 0.3, FaultCodes.HeatShort, 3),
        new(Positions.Burner, "no-ignition", "heat", "electrode burnt", 0.6, FaultCodes.FlameLost, 6),
        new(Positions.Burner, "weak-flame", "debris", "ports clogged", 0.4, FaultCodes.FlameLost, 3),
        new(Positions.DoorGasket, "cut", "handling", "cut by a tray", 0.6, null, 2),
        new(Positions.DoorGasket, "flattened", "heat", "hardened by heat", 0.4, null, 2),
    ];

    /// <summary>Blockages: cleared by cleaning, no part fails.</summary>
    internal static readonly FailureWay[] Blockages =
    [
        new(Positions.DrainValve, Blocked, "debris", "food debris in the drain", 0.5, FaultCodes.DrainSlow, 5),
        new(Positions.FillValve, Blocked, "debris", "strainer full", 0.3, FaultCodes.FillTimeout, 4),
        new(Positions.SprayArm, Blocked, "debris", "nozzles full of debris", 0.2, FaultCodes.FlowLow, 2),
    ];

    internal static IReadOnlyList<string> ModesOf(string position) =>
        [.. OfParts.Concat(Blockages).Where(way => way.Position == position).Select(way => way.Mode)];

    internal static IReadOnlyList<FailureWay> PartsAt(string position) => [.. OfParts.Where(way => way.Position == position)];
}
