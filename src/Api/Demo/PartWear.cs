namespace Washwear.Api.Demo;

/// <summary>What a part's age is counted in.</summary>
public enum WearClock
{
    /// <summary>Days in service.</summary>
    Days,

    /// <summary>Washes run.</summary>
    Washes,
}

/// <summary>The true life of the parts at a position: Weibull, survival at age t is exp(-(t / scale)^shape).</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Clock">What the age is counted in.</param>
/// <param name="Shape">Shape, above 0; 1 is failure at random, above 1 is wearing out.</param>
/// <param name="Scale">Scale, in days or washes: the age that 63.2 % of parts do not outlive.</param>
/// <param name="Kind">Which parts: <c>usual</c>, <c>upgraded</c> or <c>early batch</c>.</param>
public sealed record PartWear(string Position, WearClock Clock, double Shape, double Scale, string Kind = PartWear.Usual)
{
    internal const string Usual = "usual";
    internal const string Upgraded = "upgraded";
    internal const string EarlyBatch = "early batch";

    // Hard water wears a drain valve: its life in washes shrinks with this power of hardness against the reference.
    internal const double HardnessPower = 0.6;
    internal const double ReferenceHardnessMgPerL = 200;

    private static readonly Dictionary<(string, string), PartWear> ByPosition = All().ToDictionary(wear => (wear.Position, wear.Kind));

    /// <summary>The truth for every position; the drain valve's scale is that at 200 mg/L.</summary>
    public static IReadOnlyList<PartWear> Table => [.. ByPosition.Values];

    internal static PartWear Of(string position, string kind, double hardnessMgPerL)
    {
        PartWear wear = ByPosition.TryGetValue((position, kind), out PartWear? special) ? special : ByPosition[(position, Usual)];
        return position == Positions.DrainValve
            ? wear with { Scale = wear.Scale * Math.Pow(ReferenceHardnessMgPerL / hardnessMgPerL, HardnessPower) }
            : wear;
    }

    private static IEnumerable<PartWear> All() =>
    [
        new(Positions.WashPump, WearClock.Washes, 2.5, 950),
        new(Positions.DrainValve, WearClock.Washes, 2.0, 1400),
        new(Positions.FillValve, WearClock.Washes, 1.5, 2400),
        new(Positions.FillValve, WearClock.Washes, 2.2, 260, EarlyBatch),
        new(Positions.SuctionHose, WearClock.Days, 3.0, 950),
        new(Positions.DeliveryHose, WearClock.Days, 3.0, 800),
        new(Positions.DeliveryHose, WearClock.Days, 3.0, 1200, Upgraded),
        new(Positions.SprayArm, WearClock.Washes, 1.8, 1900),
        new(Positions.HeatingElement, WearClock.Days, 1.6, 2600),
        new(Positions.Burner, WearClock.Days, 1.4, 2900),
        new(Positions.DoorGasket, WearClock.Days, 1.0, 900),
    ];
}
