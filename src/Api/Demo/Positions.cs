using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>The maintainable items of the invented ovens: what they are called, cost and take to replace.</summary>
internal static class Positions
{
    internal const string WashPump = "wash-pump";
    internal const string DrainValve = "drain-valve";
    internal const string FillValve = "fill-valve";
    internal const string SuctionHose = "suction-hose";
    internal const string DeliveryHose = "delivery-hose";
    internal const string SprayArm = "spray-arm";
    internal const string HeatingElement = "heating-element";
    internal const string Burner = "burner";
    internal const string DoorGasket = "door-gasket";

    private const double PlannedVisitCost = 140;

    private static readonly Item[] Items =
    [
        new(WashPump, "Wash pump", "WP", 45, 310, 690, [SuctionHose, DeliveryHose]),
        new(DrainValve, "Drain valve", "DV", 40, 165, 520, [DeliveryHose]),
        new(FillValve, "Fill valve", "FV", 25, 70, 420, []),
        new(SuctionHose, "Pump suction hose", "SH", 20, 32, 390, [DeliveryHose, WashPump]),
        new(DeliveryHose, "Pump delivery hose", "DH", 20, 38, 400, [SuctionHose, WashPump]),
        new(SprayArm, "Spray arm", "SA", 15, 85, 310, []),
        new(HeatingElement, "Heating element", "HE", 70, 240, 760, [DoorGasket]),
        new(Burner, "Burner", "BU", 90, 420, 980, [DoorGasket]),
        new(DoorGasket, "Door gasket", "DG", 15, 95, 210, []),
    ];

    internal static string PartNumber(string position, int model) => $"INV-{Find(position).Letters}-{model + 1}0";

    internal static string UpgradedPartNumber(string position, int model) => $"INV-{Find(position).Letters}-{model + 1}5";

    /// <summary>Parts that an operator must agree to pay for before they are ordered.</summary>
    internal static double PartCost(string position) => Find(position).Cost;

    internal static IEnumerable<PositionResource> Resources(ModelPlan model) =>
        model.Positions.Select(position => Resource(position, model.Index, model.Positions));

    internal static IReadOnlyList<string> CompanionsOf(string position) => Find(position).Companions;

    /// <summary>Whether a planned visit grades it: pump, hoses and gasket, which can be seen without taking anything apart.</summary>
    internal static bool IsGradedWhenPlanned(string position) => position is WashPump or SuctionHose or DeliveryHose or DoorGasket;

    internal static PositionResource Resource(string position, int model, IReadOnlyList<string> fittedOnModel)
    {
        Item item = Find(position);
        List<string> numbers = [PartNumber(position, model)];
        if (position == DeliveryHose)
        {
            numbers.Add(UpgradedPartNumber(position, model));
        }

        return new PositionResource(
            position, item.Name, FailureWays.ModesOf(position), numbers, [.. item.Companions.Where(fittedOnModel.Contains)],
            item.Minutes, item.Cost, PlannedVisitCost, item.FailureCost);
    }

    private static Item Find(string position) => Array.Find(Items, item => item.Position == position)!;

    private sealed record Item(
        string Position, string Name, string Letters, double Minutes, double Cost, double FailureCost, string[] Companions);
}
