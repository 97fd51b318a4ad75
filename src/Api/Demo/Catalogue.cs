using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>One invented model: its positions and what its wash programmes are called.</summary>
/// <param name="Index">0, 1 or 2.</param>
/// <param name="Weight">Share of the fleet.</param>
internal sealed record ModelPlan(int Index, string Code, string Name, double Weight, IReadOnlyList<string> Positions)
{
    /// <summary>Each model has its own name for the programme of a grade.</summary>
    internal string Programme(ProgrammeGrade grade) => $"{"abc"[Index]}-{Catalogue.Wash(grade).Word}";
}

/// <summary>The invented models with their programmes and fault catalogues.</summary>
internal static class Catalogue
{
    internal static readonly ModelPlan[] Models =
    [
        new(0, "INV-SMALL-E", "Small electric combi oven (invented)", 0.35,
        [
            Positions.WashPump, Positions.DrainValve, Positions.FillValve, Positions.DeliveryHose, Positions.HeatingElement,
            Positions.DoorGasket,
        ]),
        new(1, "INV-LARGE-E", "Large electric combi oven (invented)", 0.40,
        [
            Positions.WashPump, Positions.DrainValve, Positions.FillValve, Positions.SuctionHose, Positions.DeliveryHose,
            Positions.SprayArm, Positions.HeatingElement, Positions.DoorGasket,
        ]),
        new(2, "INV-LARGE-G", "Large gas combi oven (invented)", 0.25,
        [
            Positions.WashPump, Positions.DrainValve, Positions.FillValve, Positions.SuctionHose, Positions.DeliveryHose,
            Positions.SprayArm, Positions.Burner, Positions.DoorGasket,
        ]),
    ];

    private static readonly WashKind[] Washes =
    [
        new(ProgrammeGrade.Rinse, "quick-rinse", 14, 0),
        new(ProgrammeGrade.Light, "day-wash", 38, 1),
        new(ProgrammeGrade.Standard, "night-wash", 74, 2),
        new(ProgrammeGrade.Intensive, "deep-wash", 118, 4),
        new(ProgrammeGrade.Descale, "scale-off", 65, 0),
    ];

    internal static WashKind Wash(ProgrammeGrade grade) => Array.Find(Washes, wash => wash.Grade == grade)!;

    internal static ModelResource Resource(ModelPlan model) => new(
        model.Code, model.Name, "combi oven",
        [.. model.Positions.Select(position => Positions.Resource(position, model.Index, model.Positions))],
        [.. Washes.Select(wash => new ProgrammeResource(model.Programme(wash.Grade), wash.Grade, wash.Minutes, wash.Doses))],
        [.. Faults(model)]);

    /// <summary>The catalogued causes of a fault on a model.</summary>
    internal static IReadOnlyList<FailureWay> Causes(ModelPlan model, string fault) =>
        [.. WaysOf(fault).Where(way => model.Positions.Contains(way.Position))];

    /// <summary>The catalogued checks of a fault on a model, in the order in which they are to be done.</summary>
    internal static IReadOnlyList<FaultCheckResource> ChecksOf(ModelPlan model, string fault) =>
        Checks.For([.. Causes(model, fault).Select(way => way.Position).Distinct()], model.Positions);

    private static IEnumerable<FaultResource> Faults(ModelPlan model)
    {
        foreach (FaultCodes.Fault fault in FaultCodes.All)
        {
            IReadOnlyList<FailureWay> ways = Causes(model, fault.Code);
            if (ways.Count > 0 || IsOfThePeople(fault.Code))
            {
                yield return Fault(fault, ways, model);
            }
        }
    }

    private static IEnumerable<FailureWay> WaysOf(string fault) => FailureWays.OfParts.Concat(FailureWays.Blockages)
        .Where(way => way.Fault == fault || (fault == FaultCodes.FlowFalling && way.Mode == "weak-flow"));

    private static bool IsOfThePeople(string fault) => fault is FaultCodes.DetergentOut or FaultCodes.DoorOpened;

    private static FaultResource Fault(FaultCodes.Fault fault, IReadOnlyList<FailureWay> ways, ModelPlan model) => new(
        fault.Code, fault.Text, fault.LocksOutWashing, fault.LocksOutCooking,
        [.. ways.Select(way => new FaultCauseResource(way.Position, way.Mode, way.Cause, way.PriorWeight))],
        ChecksOf(model, fault.Code));

    internal sealed record WashKind(ProgrammeGrade Grade, string Word, double Minutes, double Doses);
}
