using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Import;
using Washwear.Api.Registry;

namespace Washwear.Api.Tests.Import;

/// <summary>A small invented registry to hold sheets against.</summary>
internal static class Fleet
{
    public static RegistryDocument Document { get; } = new(
        [new("brindemoor", "Brindemoor canteens (invented)")],
        [new("S001", "brindemoor", "Canteen 1 (invented)", "Europe/Vienna"), new("S002", "brindemoor", "Canteen 2 (invented)", "America/New_York")],
        [
            new(
                "INV-LARGE", "Large oven (invented)", "combi oven",
                [new("wash-pump", "Wash pump", PartNumbers: ["INV-WP-10"]), new("door-gasket", "Door gasket", PartNumbers: ["INV-DG-10"]), new("drain-valve", "Drain valve")],
                [new("W1", ProgrammeGrade.Light), new("W3", ProgrammeGrade.Standard)],
                [new("E21", "No water while washing", LocksOutWashing: true), new("E30", "Drain blocked")]),
        ],
        [
            new("OVEN-0001", "S001", "INV-LARGE", "INV100000", new DateOnly(2024, 5, 6)), new("OVEN-0002", "S001", "INV-LARGE", "INV107919", new DateOnly(2024, 5, 6)),
            new("OVEN-0003", "S002", "INV-LARGE", "INV115838", new DateOnly(2024, 5, 6)), new("0044", "S002", "INV-LARGE", null, new DateOnly(2024, 5, 6)),
        ],
        []);

    public static RegistrySnapshot Registry { get; } = Snapshot();

    public static CodeBook Codes => new(Registry);

    private static RegistrySnapshot Snapshot()
    {
        OperatorEntry[] operators = [new(1, Document.Operators[0])];
        SiteEntry[] sites = [.. Document.Sites.Select((site, i) => new SiteEntry(i + 1, site, operators[0], DateTimeZoneProviders.Tzdb[site.TimeZone]))];
        ModelEntry[] models = [ModelEntry.Of(1, Document.Models[0])];
        UnitEntry[] units = [.. Document.Units.Select((unit, i) => new UnitEntry(i + 1, unit, sites.First(site => site.Resource.Site == unit.Site), models[0]))];
        return new RegistrySnapshot(1, operators, sites, models, units, [], [], new PlanResources([], [], [], null));
    }
}
