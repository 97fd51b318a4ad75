namespace Washwear.Api.Demo;

/// <summary>The fault codes of the invented ovens.</summary>
internal static class FaultCodes
{
    internal const string FlowLow = "flow-low";
    internal const string FlowFalling = "flow-falling";
    internal const string PumpOverload = "pump-overload";
    internal const string LeakFound = "leak-found";
    internal const string DrainSlow = "drain-slow";
    internal const string LevelLost = "level-lost";
    internal const string FillTimeout = "fill-timeout";
    internal const string FillRunsOn = "fill-runs-on";
    internal const string RotorStill = "rotor-still";
    internal const string HeatShort = "heat-short";
    internal const string FlameLost = "flame-lost";
    internal const string DetergentOut = "detergent-out";
    internal const string DoorOpened = "door-opened";

    internal static readonly Fault[] All =
    [
        new(FlowLow, "Wash pressure too low to clean", true, false),
        new(FlowFalling, "Wash pressure falling, the wash was cut short", false, false),
        new(PumpOverload, "Wash pump draws too much current", true, false),
        new(LeakFound, "Water in the drip tray", true, false),
        new(DrainSlow, "The cavity did not drain in time", true, false),
        new(LevelLost, "Wash water drains away during the wash", true, false),
        new(FillTimeout, "The cavity did not fill in time", true, false),
        new(FillRunsOn, "Water runs in after filling", true, true),
        new(RotorStill, "The spray arm does not turn", true, false),
        new(HeatShort, "The cavity does not reach wash temperature", true, true),
        new(FlameLost, "The burner goes out or does not light", true, true),
        new(DetergentOut, "No detergent", false, false),
        new(DoorOpened, "The door was opened during the wash", false, false),
    ];

    internal sealed record Fault(string Code, string Text, bool LocksOutWashing, bool LocksOutCooking);
}
