using Washwear.Analytics.Repeats;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>Codes and names for the numbers of positions and fault codes; models may name them differently: the first one speaks.</summary>
internal sealed class RepeatNames
{
    private readonly IReadOnlyList<string> _positions;
    private readonly IReadOnlyList<string> _codes;
    private readonly UnitEntry[] _models;

    /// <summary>Names of what some units have.</summary>
    /// <param name="view">The units.</param>
    /// <param name="numbers">The numbers, all given by now.</param>
    public RepeatNames(FailureView view, FailureNumbers numbers)
    {
        (_positions, _codes) = (numbers.Positions, numbers.Codes);
        _models = [.. view.Units.Select(unit => unit.Terms.Unit).DistinctBy(unit => unit.Model.Id)];
    }

    /// <summary>A fault code.</summary>
    /// <param name="number">Its number; null: none.</param>
    public string? Code(int? number) => number is { } known ? _codes[known] : null;

    /// <summary>Code and text of a fault.</summary>
    /// <param name="number">Its number.</param>
    public string Fault(int number) =>
        Array.Find(_models, unit => unit.Model.Faults.ContainsKey(_codes[number])) is { } unit ? FailureNames.Fault(unit, _codes[number]) : _codes[number];

    /// <summary>A position or fault code over the fleet.</summary>
    /// <param name="group">Its figures.</param>
    public RepeatPosition Group(RepeatGroup group)
    {
        bool isPosition = group.Of == RepeatOf.Position;
        return new RepeatPosition(
            isPosition ? _positions[group.Key] : null,
            isPosition ? null : _codes[group.Key],
            isPosition ? Position(_positions[group.Key]) : Fault(group.Key),
            group.Repairs,
            group.CameBack,
            group.Share,
            group.Expected,
            group.Ratio);
    }

    private string Position(string code) =>
        Array.Find(_models, unit => unit.Model.Positions.ContainsKey(code)) is { } unit ? FailureNames.Position(unit, code) : code;
}
