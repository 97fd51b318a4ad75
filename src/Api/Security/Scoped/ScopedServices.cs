using System.Reflection;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Security.Scoped;

/// <summary>
/// The services of each scope, made when somebody asks in it and kept while it is among those asked for last. Safe for concurrent use.
/// </summary>
/// <param name="root">The services of the whole fleet.</param>
/// <param name="types">Which of them read what belongs to operators.</param>
/// <param name="database">The database.</param>
/// <param name="registry">The registry of the whole fleet, which knows what the codes of a scope mean now.</param>
/// <param name="settings">How many scopes are kept.</param>
internal sealed class ScopedServices(
    IServiceProvider root, PerScopeTypes types, Database database, RegistryCache registry, Settings settings) : IAsyncDisposable
{
    private readonly Lock _gate = new();
    private readonly Dictionary<DataScope, Kept> _kept = [];
    private long _uses;

    /// <summary>How many scopes are kept now.</summary>
    public int Count
    {
        get
        {
            lock (_gate)
            {
                return _kept.Count;
            }
        }
    }

    /// <summary>Whether a service has an instance of its own in each scope.</summary>
    /// <param name="type">Its type.</param>
    public bool IsPerScope(Type type) => types.Types.Contains(type);

    /// <summary>Borrows the services of a scope; the caller disposes of the loan.</summary>
    /// <param name="scope">The scope; not the whole fleet.</param>
    /// <param name="cancellationToken">Stops reading the registry.</param>
    public async Task<Loan> BorrowAsync(Scope scope, CancellationToken cancellationToken)
    {
        DataScope data = Numbers(scope, await registry.CurrentAsync(cancellationToken));
        List<Kept> idle = [];
        Loan loan;
        lock (_gate)
        {
            if (!_kept.TryGetValue(data, out Kept? kept))
            {
                _kept[data] = kept = new Kept(data, Make(data));
            }

            kept.Borrowed++;
            kept.LastUse = ++_uses;
            loan = new Loan(this, kept);
            idle.AddRange(Drop());
        }

        foreach (Kept one in idle)
        {
            await one.Services.DisposeAsync();
        }

        return loan;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        foreach (Kept kept in _kept.Values)
        {
            await kept.Services.DisposeAsync();
        }
    }

    /// <summary>What the codes of a scope mean now; codes that are not there show nothing.</summary>
    private static DataScope Numbers(Scope scope, RegistrySnapshot registry) => scope.Kind switch
    {
        ScopeKind.Operators => DataScope.OfOperators(Found(registry.Operators, scope.Codes, entry => entry.Id)),
        ScopeKind.Sites => DataScope.OfSites(Found(registry.Sites, scope.Codes, entry => entry.Id)),
        ScopeKind.Units => DataScope.OfUnits(Found(registry.Units, scope.Codes, entry => entry.Id)),
        _ => throw new ArgumentException("The whole fleet needs no services of its own.", nameof(scope)),
    };

    private static IEnumerable<long> Found<T>(IReadOnlyDictionary<string, T> entries, IReadOnlyList<string> codes, Func<T, long> number) =>
        codes.Where(entries.ContainsKey).Select(code => number(entries[code]));

    // Nobody's services are taken away while they are borrowed.
    private List<Kept> Drop()
    {
        List<Kept> dropped = [.. _kept.Values.Where(kept => kept.Borrowed == 0).OrderBy(kept => kept.LastUse).Take(Math.Max(0, _kept.Count - settings.ScopesKept))];
        dropped.ForEach(kept => _kept.Remove(kept.Scope));
        return dropped;
    }

    private ServiceProvider Make(DataScope scope)
    {
        var services = new ServiceCollection();
        services.AddSingleton(_ => database.Within(scope));
        foreach (Type type in types.Types.Where(type => type != typeof(Database)))
        {
            services.AddSingleton(type);
            foreach (Type needed in Needs(type).Where(needed => !types.Types.Contains(needed)))
            {
                // Given as an instance, so that it is not disposed of with the scope.
                services.AddSingleton(needed, root.GetRequiredService(needed));
            }
        }

        return services.BuildServiceProvider();
    }

    private static IEnumerable<Type> Needs(Type type) =>
        type.GetConstructors(BindingFlags.Public | BindingFlags.Instance).Single().GetParameters().Select(parameter => parameter.ParameterType);

    private void GiveBack(Kept kept)
    {
        lock (_gate)
        {
            kept.Borrowed--;
        }
    }

    /// <summary>The services of a scope, which are not taken away until this is disposed of.</summary>
    /// <param name="owner">Where they come from.</param>
    /// <param name="kept">The services.</param>
    internal sealed class Loan(ScopedServices owner, Kept kept) : IDisposable
    {
        private bool _isGivenBack;

        /// <summary>The services.</summary>
        public IServiceProvider Services => kept.Services;

        /// <inheritdoc/>
        public void Dispose()
        {
            if (!_isGivenBack)
            {
                _isGivenBack = true;
                owner.GiveBack(kept);
            }
        }
    }

    /// <summary>Services that are kept.</summary>
    /// <param name="scope">Whose.</param>
    /// <param name="services">The services.</param>
    internal sealed class Kept(DataScope scope, ServiceProvider services)
    {
        public DataScope Scope { get; } = scope;

        public ServiceProvider Services { get; } = services;

        public int Borrowed { get; set; }

        public long LastUse { get; set; }
    }
}
