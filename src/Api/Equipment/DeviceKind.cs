namespace Washwear.Api.Equipment;

/// <summary>Kinds of device of the open information model OPC 30200 (Commercial Kitchen Equipment) that have a cleaning mode.</summary>
internal enum DeviceKind
{
    /// <summary>Combi steamer.</summary>
    CombiSteamer,

    /// <summary>A chamber of a convection or multiple deck oven; a device may have several.</summary>
    OvenChamber,

    /// <summary>Microwave combination oven.</summary>
    MicrowaveCombi,

    /// <summary>Multi function pan.</summary>
    MultifunctionPan,

    /// <summary>Dishwashing machine.</summary>
    Dishwasher,

    /// <summary>Coffee machine.</summary>
    CoffeeMachine,

    /// <summary>Ice machine.</summary>
    IceMachine,
}

/// <summary>Where a kind of device says its mode, and which value of it is cleaning: OPC 30200, model 1.0, section and NodeIds in docs/mqtt.md.</summary>
/// <param name="Field">Name of the variable.</param>
/// <param name="Cleaning">Value of its enumeration that is cleaning.</param>
internal readonly record struct ModeVariable(string Field, int Cleaning)
{
    /// <summary>The variable of a kind of device.</summary>
    /// <param name="kind">The kind.</param>
    public static ModeVariable Of(DeviceKind kind) => kind switch
    {
        DeviceKind.CombiSteamer => new("CombiSteamerMode", 8),
        DeviceKind.OvenChamber => new("OperationMode", 7),
        DeviceKind.MicrowaveCombi => new("OperatingMode", 6),
        DeviceKind.MultifunctionPan => new("MultiFunctionPanMode", 13),
        DeviceKind.Dishwasher => new("OperationMode", 10),
        DeviceKind.CoffeeMachine => new("CurrentState", 3),
        DeviceKind.IceMachine => new("Status", 6),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of device."),
    };
}
