using System.Text.Json;
using Washwear.Faults.Served;

namespace Washwear.Load.Fleet;

/// <summary>A key of the program under test.</summary>
/// <param name="Name">Its name: the source of what it sends.</param>
/// <param name="Role">Who uses it.</param>
/// <param name="Secret">The secret.</param>
/// <param name="Units">Asset tags that it sees; null: the whole fleet.</param>
internal sealed record LoadKey(string Name, string Role, string Secret, IReadOnlyList<string>? Units)
{
    /// <summary>The units that it sees.</summary>
    /// <param name="fleet">The fleet.</param>
    public IReadOnlyList<FleetUnit> Seen(PreparedFleet fleet)
    {
        if (Units is null)
        {
            return fleet.Units;
        }

        HashSet<string> seen = [.. Units];
        return [.. fleet.Units.Where(unit => seen.Contains(unit.Code))];
    }
}

/// <summary>Makes the keys by the command line of the program under test: some see the whole fleet, some an operator, some kitchens or
/// single units. They are kept beside the database, which is invented.</summary>
internal static class KeyRing
{
    private const string Name = "keys.json";
    private const int FewSites = 10;
    private const int FewUnits = 40;

    private static readonly (string Role, string Can, string[] Scopes)[] Roles =
    [
        ("gateway", "ingest", ["everything", "operator", "site", "unit"]),
        ("technician", "read,ingest,work", ["everything", "operator"]),
        ("manager", "read,work", ["everything", "operator"]),
        ("planner", "read,plan", ["everything", "operator"]),
        ("reader", "read", ["everything", "operator", "site", "unit"]),
    ];

    /// <summary>Reads them, or makes them if there are none.</summary>
    /// <param name="options">Where.</param>
    /// <param name="fleet">The fleet.</param>
    public static async Task<IReadOnlyList<LoadKey>> ReadOrMakeAsync(LoadOptions options, PreparedFleet fleet)
    {
        string file = Path.Combine(options.Folder, Name);
        if (File.Exists(file))
        {
            return JsonSerializer.Deserialize<LoadKey[]>(await File.ReadAllTextAsync(file))!;
        }

        var keys = new List<LoadKey>();
        foreach ((string role, string can, string[] scopes) in Roles)
        {
            foreach ((string suffix, string[] scope, IReadOnlyList<string>? units) in scopes.SelectMany(scope => ScopesOf(fleet, scope)))
            {
                keys.Add(await MakeAsync(options, role, can, (suffix, scope, units)));
            }
        }

        await File.WriteAllTextAsync(file, JsonSerializer.Serialize(keys));
        return keys;
    }

    private static async Task<LoadKey> MakeAsync(
        LoadOptions options, string role, string can, (string Suffix, string[] Arguments, IReadOnlyList<string>? Units) scope)
    {
        string name = $"load-{role}-{scope.Suffix}";
        CommandEnd end = await Processes.RunAsync(
            options.Served, ["keys", "add", name, "--can", can, .. scope.Arguments, "--database", options.Database, "--log-level", "error"]);
        return end.Code == 0
            ? new LoadKey(name, role, end.Out.Trim().Split('\n')[^1].Trim(), scope.Units)
            : throw new InvalidOperationException($"keys add {name}: {end.All}");
    }

    private static IEnumerable<(string Suffix, string[] Arguments, IReadOnlyList<string>? Units)> ScopesOf(PreparedFleet fleet, string kind)
    {
        switch (kind)
        {
            case "operator":
                return fleet.Units.GroupBy(unit => unit.Operator)
                    .Select(one => (one.Key, new[] { "--operator", one.Key }, (IReadOnlyList<string>?)Codes(one)));
            case "site":
                string[] sites = [.. fleet.Units.Select(unit => unit.Site).Distinct().Take(FewSites)];
                return [("sites", [.. sites.SelectMany(site => new[] { "--site", site })], Codes(fleet.Units.Where(unit => sites.Contains(unit.Site))))];
            case "unit":
                string[] units = Codes(fleet.Units.TakeLast(FewUnits));
                return [("units", [.. units.SelectMany(unit => new[] { "--unit", unit })], units)];
            default:
                return [("all", [], null)];
        }
    }

    private static string[] Codes(IEnumerable<FleetUnit> units) => [.. units.Select(unit => unit.Code)];
}
