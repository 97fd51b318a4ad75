using System.Collections.Concurrent;
using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Analytics.PartLife;
using Washwear.Api.Commands;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Tests.House;

/// <summary>The rules of the house, each checked over the whole tree, all offenders named at once.</summary>
public sealed partial class TreeTests
{
    private const int LongestFileLines = 400;

    private static readonly string[] OpenRoutes =
    [
        "/health/live", "/health/ready", "/sign-in", "/sign-in/key", "/sign-in/link", "/sign-in/company", "/sign-in/company/start", "/sign-out", "/join",
        "/assets/{name}",
    ];

    // There are routes that only an installation with an issuer of OpenID Connect has; nothing is asked of it at the start.
    private static readonly (string, string)[] Everything = [("oidc_issuer", "https://login.example.org"), ("oidc_client_id", "washwear")];

    private static readonly ConcurrentDictionary<Assembly, XDocument> Documents = new();

    private static readonly string[] NotSqlRooms = ["src/Analytics/", "src/Dashboard/"];

    [Fact]
    public void References_run_from_Api_to_Dashboard_to_Analytics_and_never_back()
    {
        string[] analytics = ReferencesOf(typeof(Weibull).Assembly);
        string[] dashboard = ReferencesOf(typeof(Urls).Assembly);

        Assert.DoesNotContain(analytics, name => name.StartsWith("Washwear", StringComparison.Ordinal) || name.Contains("AspNetCore", StringComparison.Ordinal)
            || name.Contains("Sqlite", StringComparison.Ordinal) || name.Contains("ScottPlot", StringComparison.Ordinal));
        Assert.DoesNotContain(dashboard, name => name == "Washwear.Api" || name.Contains("Sqlite", StringComparison.Ordinal) || name == "Dapper");
    }

    [Fact]
    public void Sql_stands_only_in_its_rooms()
    {
        string[] offenders =
        [
            .. Repository.Files("src", "*.cs").Where(file => Statement().IsMatch(File.ReadAllText(file))).Select(Repository.Short)
                .Where(file => NotSqlRooms.Any(room => file.StartsWith(room, StringComparison.Ordinal)) || !IsSqlRoom(file)),
        ];

        Assert.True(offenders.Length == 0, "SQL outside *Queries.cs, Ledger, Projections and Storage: " + string.Join(", ", offenders));
    }

    [Theory]
    [InlineData("\"SELECT id FROM unit\"", true)]
    [InlineData("\"\"\"\n    INSERT OR IGNORE INTO unit", true)]
    [InlineData("\"UPDATE unit SET site_id = 1\"", true)]
    [InlineData("\"\"\"\n  WITH latest AS (SELECT", true)]
    [InlineData("\"Select a unit\"", false)]
    [InlineData("// UPDATE of a unit", false)]
    public void The_search_for_sql_finds_sql(string text, bool found) => Assert.Equal(found, Statement().IsMatch(text));

    [Fact]
    public void Analytics_asks_no_clock_no_file_no_culture_and_no_ambient_chance()
    {
        string[] offenders =
        [
            .. Repository.Files("src/Analytics", "*.cs").SelectMany(file => File.ReadLines(file)
                .Where(line => !line.TrimStart().StartsWith("//", StringComparison.Ordinal) && Impure().IsMatch(line))
                .Select(line => Repository.Short(file) + ": " + line.Trim())),
        ];

        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    [Fact]
    public void No_file_is_too_long_and_none_is_a_drawer_for_odds_and_ends()
    {
        string[] offenders =
        [
            .. Repository.Files("src", "*.cs", "*.razor").Where(file => File.ReadLines(file).Count() > LongestFileLines).Select(file => Repository.Short(file) + ": too long"),
            .. Repository.Files("src", "*.cs", "*.razor").Where(file => Drawer().IsMatch(Repository.Short(file))).Select(file => Repository.Short(file) + ": says nothing about its job"),
            .. new[] { typeof(Urls), typeof(Weibull), typeof(Program) }.SelectMany(type => type.Assembly.GetTypes())
                .Where(type => type.Namespace?.StartsWith("Washwear", StringComparison.Ordinal) == true && Drawer().IsMatch(type.Name + ".cs"))
                .Select(type => type.FullName + ": says nothing about its job"),
        ];

        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task Every_route_declares_an_ability_or_is_one_of_the_few_open_ones()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, Everything);
        string[] offenders =
        [
            .. host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
                .Where(route => route.Metadata.GetMetadata<RequiredAbility>() is null && !IsOwn(route))
                .Where(route => route.Metadata.GetMetadata<IAllowAnonymous>() is null || !OpenRoutes.Contains("/" + route.RoutePattern.RawText!.TrimStart('/')))
                .Select(route => route.RoutePattern.RawText ?? "?"),
        ];

        Assert.True(offenders.Length == 0, "No ability declared: " + string.Join(", ", offenders));
    }

    [Fact]
    public async Task Every_route_of_the_api_is_in_the_contract_and_every_page_in_the_developers_notes()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, Everything);
        using JsonDocument contract = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        string notes = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "DEVELOPERS.md"));
        string[] inContract =
        [
            .. contract.RootElement.GetProperty("paths").EnumerateObject()
                .SelectMany(path => path.Value.EnumerateObject().Select(method => method.Name.ToUpperInvariant() + " " + path.Name)),
        ];
        string[] offenders =
        [
            .. host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
                .SelectMany(route => route.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods.Select(method => (
                    Method: method, Path: "/" + Constraint().Replace(route.RoutePattern.RawText!.Trim('/'), string.Empty))))
                .Distinct()
                .Where(route => route.Path.StartsWith("/v1/", StringComparison.Ordinal) || !notes.Contains("`" + route.Path + "`", StringComparison.Ordinal))
                .Select(route => route.Method + " " + route.Path)
                .Except(inContract),
        ];

        Assert.True(inContract.Length > 25, $"only {inContract.Length} operations");
        Assert.True(offenders.Length == 0, "Documented nowhere: " + string.Join(", ", offenders));
    }

    [Fact]
    public async Task The_page_of_settings_is_the_programs_own()
    {
        string page = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "docs", "settings.md"));

        Assert.True(
            page == WriteSettings.Page(),
            "docs/settings.md differs from Settings.All.cs: run 'dotnet run --project src/Api -- settings \"$PWD/docs/settings.md\"' and review the change.");
    }

    [Fact]
    public void Every_public_property_of_the_dashboard_and_of_analytics_is_documented()
    {
        string[] offenders =
        [
            .. new[] { typeof(Urls).Assembly, typeof(Weibull).Assembly }.SelectMany(assembly => assembly.GetExportedTypes())
                .Where(type => !type.IsSubclassOf(typeof(ComponentBase)) && !type.IsEnum)
                .SelectMany(type => type.GetProperties(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly))
                .Where(property => !Documented(property) && !IsOverride(property))
                .Select(property => property.DeclaringType!.FullName + "." + property.Name),
        ];

        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    [Fact]
    public void Tracked_files_name_no_registry_host_and_no_path_of_a_machine()
    {
        string[] offenders =
        [
            .. Repository.Tracked().Where(file => Path.GetExtension(file) is ".cs" or ".md" or ".csproj" or ".props" or ".sh" or ".yaml" or ".json" or ".razor" or ".js" or ".css" or "")
                .Where(File.Exists)
                .Where(file => MachinePath().IsMatch(File.ReadAllText(file)))
                .Select(Repository.Short),
        ];

        Assert.True(offenders.Length == 0, string.Join(", ", offenders));
    }

    // Whoever is signed in may see to the own account, whatever else that one may do.
    private static bool IsOwn(RouteEndpoint route) =>
        ("/" + route.RoutePattern.RawText!.TrimStart('/')) is var path
        && (path.StartsWith("/account", StringComparison.Ordinal) || path.StartsWith("/v1/account/", StringComparison.Ordinal)) && route.Metadata.GetMetadata<IAllowAnonymous>() is null;

    // A property says what it is itself, or its record says so where it lists its parameters.
    private static bool Documented(PropertyInfo property)
    {
        string type = property.DeclaringType!.FullName!.Replace('+', '.');
        XElement[] members = [.. Documentation(property.DeclaringType.Assembly).Descendants("member")];
        XElement? own = Array.Find(members, member => member.Attribute("name")!.Value == $"P:{type}.{property.Name}");
        XElement? listed = Array.Find(members, member => member.Attribute("name")!.Value == "T:" + type)?.Elements("param")
            .FirstOrDefault(parameter => parameter.Attribute("name")!.Value == property.Name);
        return own?.Element("inheritdoc") is not null || !string.IsNullOrWhiteSpace(own?.Value) || !string.IsNullOrWhiteSpace(listed?.Value);
    }

    private static bool IsOverride(PropertyInfo property) => property.GetMethod is { } get && get.GetBaseDefinition() != get;

    private static XDocument Documentation(Assembly assembly) =>
        Documents.GetOrAdd(assembly, loaded => XDocument.Load(Path.ChangeExtension(loaded.Location, ".xml")));

    private static string[] ReferencesOf(Assembly assembly) => [.. assembly.GetReferencedAssemblies().Select(name => name.Name!)];

    private static bool IsSqlRoom(string file) =>
        file.EndsWith("Queries.cs", StringComparison.Ordinal)
        || new[] { "src/Api/Ledger/", "src/Api/Projections/", "src/Api/Storage/" }.Any(room => file.StartsWith(room, StringComparison.Ordinal));

    [GeneratedRegex("\"\\s*(SELECT|INSERT (INTO|OR)|REPLACE INTO|UPDATE \\w+ SET|DELETE FROM|PRAGMA|WITH \\w+ (AS )?\\(|(CREATE|ALTER|DROP) (TABLE|VIEW|INDEX)|ATTACH|VACUUM|BEGIN IMMEDIATE)")]
    private static partial Regex Statement();

    [GeneratedRegex(@"DateTime(Offset)?\.(Utc)?Now|SystemClock|TimeProvider|\bFile\.|\bDirectory\.|\bConsole\.|HttpClient|Random\.Shared|new Random\(\)|CurrentCulture|CurrentUICulture|Environment\.")]
    private static partial Regex Impure();

    [GeneratedRegex(@"(Helper|Helpers|Util|Utils|Misc|Common)(/|\.cs$)")]
    private static partial Regex Drawer();

    [GeneratedRegex(":[a-z]+(?=})")]
    private static partial Regex Constraint();

    // Written so that this file does not name what it looks for.
    [GeneratedRegex(@"nuget\.o[r]g|npmjs\.c[o]m|debian\.o[r]g/|/wo[r]k/(main|shared|wt)|/ro[o]t/")]
    private static partial Regex MachinePath();
}
