using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Api.Messages;

/// <summary>Finds the unit that a message is about.</summary>
/// <param name="registry">The registry.</param>
internal sealed class UnitFinder(RegistrySnapshot registry)
{
    private ILookup<string, UnitEntry>? _bySerial;

    /// <summary>The unit's asset tag, as the message says it, or as the registry does for a serial number; whether there is such an asset tag is not
    /// asked.</summary>
    /// <param name="values">What the message offers.</param>
    /// <param name="value">Where the name of the unit comes from.</param>
    /// <param name="problem">Why there is none.</param>
    public string? AssetTag(MessageValues values, ValueResource value, out RowProblem? problem)
    {
        string? name = values.Read("unit", value, false, out problem);
        if (name is null || value.By != UnitName.Serial)
        {
            return name;
        }

        _bySerial ??= registry.UnitList.Where(unit => unit.Resource.Serial is not null)
            .ToLookup(unit => unit.Resource.Serial!, StringComparer.OrdinalIgnoreCase);
        UnitEntry[] units = [.. _bySerial[name]];
        problem = units.Length == 1 ? null : new(
            "unit", units.Length == 0 ? "unknown_serial" : "ambiguous_serial",
            units.Length == 0 ? "No unit of the registry has this serial number." : "Several units of the registry have this serial number.",
            units.Length == 0 ? "Give a unit of the registry this serial number, or correct the message." : "Name the unit by its asset tag.");
        return units.Length == 1 ? units[0].Resource.Unit : null;
    }

    /// <summary>The unit.</summary>
    /// <param name="values">What the message offers.</param>
    /// <param name="value">Where the name of the unit comes from.</param>
    /// <param name="problem">Why there is none.</param>
    public UnitEntry? Find(MessageValues values, ValueResource value, out RowProblem? problem)
    {
        string? tag = AssetTag(values, value, out problem);
        if (tag is not null && registry.Units.TryGetValue(tag, out UnitEntry? unit))
        {
            return unit;
        }

        problem ??= RuleProblems.UnknownCode("unit", "unit", tag!, new NearestCode().To(tag!, registry.UnitList.Select(one => one.Resource.Unit)));
        return null;
    }
}
