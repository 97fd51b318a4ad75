using System.Globalization;

namespace Washwear.Api.Demo;

/// <summary>Every name of the invented fleet. None belongs to a company, a maker, a place or a person.</summary>
internal static class Names
{
    internal const string Jobs = "job-sheets";

    internal static readonly OperatorName[] Operators =
    [
        new("brindemoor", "Brindemoor Canteens (invented)", "Canteen"),
        new("sedgewharf", "Sedgewharf Dining (invented)", "Dining room"),
        new("ulverpost", "Ulverpost Bakeries (invented)", "Bakery"),
    ];

    internal static readonly RegionName[] Regions =
    [
        new("Invented Shore", "depot-shore", "Europe/Vienna"),
        new("Invented Hills", "depot-hills", "Europe/Vienna"),
        new("Invented Isles", "depot-isles", "Europe/Lisbon"),
    ];

    internal static readonly string[] Suppliers = ["invented-supplier-1", "invented-supplier-2"];

    internal static string Site(int index) => string.Create(CultureInfo.InvariantCulture, $"S{index + 1:000}");

    internal static string Unit(int index) => string.Create(CultureInfo.InvariantCulture, $"OVEN-{index + 1:0000}");

    internal static string Serial(int index) =>
        string.Create(CultureInfo.InvariantCulture, $"INV{(index * 7919 % 100_000) + 100_000:000000}");

    internal static string Technician(int team, int index) =>
        string.Create(CultureInfo.InvariantCulture, $"team {"ABC"[team]}, technician {index + 1}");

    internal static string Gateway(string operatorCode) => $"gateway-{operatorCode}";

    internal sealed record OperatorName(string Code, string Name, string SiteWord);

    internal sealed record RegionName(string Name, string StockPoint, string TimeZone);
}
