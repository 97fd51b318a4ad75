using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Alerts;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>An invented fleet of several operators in the running program, and callers who see a part of it.</summary>
public sealed class TwoOperators : IAsyncLifetime
{
    private const int Units = 40;

    /// <summary>The program.</summary>
    public ApiHost Host { get; private set; } = null!;

    /// <summary>What the whole fleet's registry holds.</summary>
    internal RegistrySnapshot Registry { get; private set; } = null!;

    /// <summary>The callers, by what they are called in messages.</summary>
    internal IReadOnlyList<Bound> Callers { get; private set; } = [];

    public async Task InitializeAsync()
    {
        Host = await ApiHost.StartAsync();
        SimulatedFleet fleet = FleetSimulator.Simulate(11, Host.Clock.Now, new SimulationOptions { Units = Units, Years = 2 });
        Assert.NotNull((await Host.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None)).Outcome);
        await Host.Services.GetRequiredService<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
        await Host.Services.GetRequiredService<AlertChecks>().RunAsync(CancellationToken.None);
        Registry = await Host.Services.GetRequiredService<RegistryCache>().CurrentAsync(CancellationToken.None);
        UnitEntry[][] byOperator = [.. Registry.UnitList.GroupBy(unit => unit.Site.Operator).OrderByDescending(group => group.Count()).Select(group => group.ToArray())];
        Assert.True(byOperator.Length >= 2, "the invented fleet has one operator only");
        UnitEntry one = byOperator[1][0];
        Callers =
        [
            await BoundAsync("operator", ScopeKind.Operators, [byOperator[0][0].Site.Operator.Resource.Operator]),
            await BoundAsync("site", ScopeKind.Sites, [one.Site.Resource.Site]),
            await BoundAsync("units", ScopeKind.Units, [byOperator[0][0].Resource.Unit, one.Resource.Unit]),
        ];
    }

    public async Task DisposeAsync() => await Host.DisposeAsync();

    private async Task<Bound> BoundAsync(string name, ScopeKind kind, string[] codes)
    {
        Scope scope = Scope.Of(kind, codes)!;
        UnitEntry[] seen = [.. Registry.Within(scope).UnitList];
        HttpClient client = await Host.ClientAsync(Abilities.All & ~Abilities.WholeFleet, name, scope);
        return new Bound(name, client, seen, [.. Registry.UnitList.Except(seen)]);
    }

    /// <summary>A caller who sees a part of the fleet.</summary>
    /// <param name="Name">What the caller is called.</param>
    /// <param name="Client">The client.</param>
    /// <param name="Seen">The units that are to be seen.</param>
    /// <param name="Hidden">All others.</param>
    internal sealed record Bound(string Name, HttpClient Client, UnitEntry[] Seen, UnitEntry[] Hidden)
    {
        /// <summary>Codes and names that must never be in an answer to the caller.</summary>
        public IReadOnlySet<string> HiddenWords { get; } = Words(Hidden).Except(Words(Seen), StringComparer.OrdinalIgnoreCase)
            .ToHashSet(StringComparer.OrdinalIgnoreCase);

        private static IEnumerable<string> Words(UnitEntry[] units) => units.SelectMany(unit => new[]
        {
            unit.Resource.Unit, unit.Resource.Serial, unit.Site.Resource.Site, unit.Site.Resource.Name, unit.Site.Operator.Resource.Operator,
            unit.Site.Operator.Resource.Name,
        }).OfType<string>();
    }
}
