using System.Text.Json;
using Washwear.Api.Registry;

namespace Washwear.Load.Fleet;

/// <summary>A unit that is in use.</summary>
/// <param name="Code">Asset tag.</param>
/// <param name="Site">Its site.</param>
/// <param name="Operator">Its operator.</param>
/// <param name="Model">Its model.</param>
internal sealed record FleetUnit(string Code, string Site, string Operator, string Model);

/// <summary>What senders need of a model.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Positions">Its positions.</param>
/// <param name="Faults">Faults that have causes at a position.</param>
internal sealed record FleetModel(string Code, IReadOnlyList<string> Positions, IReadOnlyList<string> Faults);

/// <summary>What is known of a prepared database: kept in a file beside it, so that runs need not read it.</summary>
/// <param name="Units">Units in use.</param>
/// <param name="Models">Models.</param>
/// <param name="AsOf">Instant at which its records end.</param>
/// <param name="Years">Years of records.</param>
/// <param name="Records">Records that were taken in.</param>
/// <param name="Seconds">How long that took.</param>
internal sealed record PreparedFleet(
    IReadOnlyList<FleetUnit> Units, IReadOnlyList<FleetModel> Models, DateTimeOffset AsOf, int Years, long Records, double Seconds)
{
    private const string Name = "fleet.json";

    /// <summary>Reads it.</summary>
    /// <param name="folder">Folder of the prepared fleet.</param>
    /// <exception cref="InvalidOperationException">Nothing is prepared there.</exception>
    public static PreparedFleet Read(string folder)
    {
        string file = Path.Combine(folder, Name);
        return File.Exists(file)
            ? JsonSerializer.Deserialize<PreparedFleet>(File.ReadAllText(file))!
            : throw new InvalidOperationException($"Nothing is prepared in {folder}: run 'prepare' first.");
    }

    /// <summary>Makes it of a registry.</summary>
    /// <param name="registry">The registry.</param>
    /// <param name="asOf">Instant at which the records end.</param>
    /// <param name="years">Years of records.</param>
    /// <param name="records">Records taken in.</param>
    /// <param name="seconds">How long that took.</param>
    public static PreparedFleet Of(RegistryDocument registry, DateTimeOffset asOf, int years, long records, double seconds)
    {
        Dictionary<string, string> operatorOf = registry.Sites.ToDictionary(site => site.Site, site => site.Operator);
        DateOnly today = DateOnly.FromDateTime(asOf.UtcDateTime);
        return new PreparedFleet(
            [
                .. registry.Units.Where(unit => unit.DecommissionedOn is null && unit.CommissionedOn < today)
                    .Select(unit => new FleetUnit(unit.Unit, unit.Site, operatorOf[unit.Site], unit.Model)),
            ],
            [
                .. registry.Models.Select(model => new FleetModel(
                    model.Model, [.. model.Positions.Select(position => position.Position)],
                    [.. model.Faults.Where(fault => fault.Causes is { Count: > 0 }).Select(fault => fault.Code)])),
            ],
            asOf, years, records, seconds);
    }

    /// <summary>Writes it.</summary>
    /// <param name="folder">Folder of the prepared fleet.</param>
    public void Write(string folder) => File.WriteAllText(Path.Combine(folder, Name), JsonSerializer.Serialize(this));

    /// <summary>The model of a unit.</summary>
    /// <param name="unit">The unit.</param>
    public FleetModel ModelOf(FleetUnit unit) => Models.First(model => model.Code == unit.Model);
}
