using Washwear.Api.Projections;
using Washwear.Api.Registry;

namespace Washwear.Api.Failures;

/// <summary>Names of what fails, as the unit's model gives them.</summary>
internal static class FailureNames
{
    /// <summary>Name of a position; its code where the model does not name it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="position">The code.</param>
    public static string Position(UnitEntry unit, string position) =>
        unit.Model.Positions.TryGetValue(position, out PositionResource? listed) ? listed.Name : Spelling.Position(unit.Model, position);

    /// <summary>Code and text of a fault; its code alone where the model does not know it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="code">The code.</param>
    public static string Fault(UnitEntry unit, string code) =>
        unit.Model.Faults.TryGetValue(code, out FaultResource? listed) ? listed.Code + ": " + listed.Text : Spelling.Fault(unit.Model, code);

    /// <summary>Whether a fault locks out washing; one that the model does not know does not.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="code">The code.</param>
    public static bool LocksOut(UnitEntry unit, string code) =>
        unit.Model.Faults.TryGetValue(code, out FaultResource? listed) && listed.LocksOutWashing;
}
