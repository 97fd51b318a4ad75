using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Washwear.Api.Tests.House;

/// <summary>Every package that is restored is named with its licence, and the licence may be used.</summary>
public sealed partial class DependencyTests
{
    private static readonly string[] Taken = ["MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause"];
    private static readonly string[] TakenForTests = [.. Taken, "MPL-2.0"];

    // Read by a person: the package has its licence as a file, not as a name.
    private static readonly Dictionary<string, string> Read = new(StringComparer.Ordinal)
    {
        ["Microsoft.Data.SqlClient.SNI.runtime"] = "Microsoft software licence (file LICENSE.txt)",
        ["MQTTnet"] = "MIT (file LICENSE)",
        ["MQTTnet.Server"] = "MIT (file LICENSE)",
        ["Sylvan.Data.Csv"] = "MIT (file license.txt)",
        ["xunit.abstractions"] = "Apache-2.0 (address)",
    };

    [Fact]
    public void The_page_of_dependencies_names_every_package_with_the_licence_that_it_states()
    {
        string folder = PackageFolder();
        string[] found =
        [
            .. Locked().GroupBy(package => package.Name, StringComparer.OrdinalIgnoreCase).OrderBy(group => group.Key.ToLowerInvariant(), StringComparer.Ordinal)
                .Select(group => $"| {group.Key} | {LicenceOf(folder, group.First())} | {(group.Any(package => package.IsShipped) ? "program" : "tests")} |"),
        ];
        string[] written = [.. File.ReadAllLines(Path.Combine(Repository.Root, "docs", "dependencies.md")).Where(line => Row().IsMatch(line))];
        Assert.True(found.Length > 50, $"only {found.Length} packages");
        Assert.Equal(string.Join('\n', found), string.Join('\n', written));
    }

    [Fact]
    public void Every_licence_may_be_used()
    {
        string folder = PackageFolder();
        string[] wrong =
        [
            .. Locked().Where(package => !Read.ContainsKey(package.Name))
                .Where(package => !(package.IsShipped ? Taken : TakenForTests).Contains(LicenceOf(folder, package)))
                .Select(package => $"{package.Name}: {LicenceOf(folder, package)}").Distinct(),
        ];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
    }

    private static IEnumerable<Package> Locked()
    {
        foreach (string file in Repository.Tracked().Where(file => Path.GetFileName(file) == "packages.lock.json"))
        {
            using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(file));
            bool isShipped = Repository.Short(file).StartsWith("src/", StringComparison.Ordinal);
            foreach (JsonProperty package in json.RootElement.GetProperty("dependencies").EnumerateObject().SelectMany(framework => framework.Value.EnumerateObject()))
            {
                if (package.Value.GetProperty("type").GetString() != "Project")
                {
                    yield return new Package(package.Name, package.Value.GetProperty("resolved").GetString()!, isShipped);
                }
            }
        }
    }

    private static string LicenceOf(string folder, Package package)
    {
        if (Read.TryGetValue(package.Name, out string? read))
        {
            return read;
        }

        string name = package.Name.ToLowerInvariant();
        XDocument told = XDocument.Load(Path.Combine(folder, name, package.Version.ToLowerInvariant(), name + ".nuspec"));
        return told.Descendants().FirstOrDefault(element => element.Name.LocalName == "license" && element.Attribute("type")?.Value == "expression")?.Value ?? "no licence by name";
    }

    // Where this very build was restored to.
    private static string PackageFolder()
    {
        using JsonDocument assets = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(Repository.Root, "tests", "Api.Tests", "obj", "project.assets.json")));
        return assets.RootElement.GetProperty("packageFolders").EnumerateObject().First().Name;
    }

    private sealed record Package(string Name, string Version, bool IsShipped);

    [GeneratedRegex(@"^\| [A-Za-z][\w.-]* \| .* \| (program|tests) \|$")]
    private static partial Regex Row();
}
