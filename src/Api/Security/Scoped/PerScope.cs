using Microsoft.Extensions.DependencyInjection.Extensions;
using Washwear.Api.Storage;

namespace Washwear.Api.Security.Scoped;

/// <summary>Which services exist once for the whole fleet and once more for each scope that somebody asks in.</summary>
/// <param name="Types">The types of those services.</param>
internal sealed record PerScopeTypes(HashSet<Type> Types);

/// <summary>Registers services that read what belongs to operators.</summary>
internal static class PerScope
{
    /// <summary>
    /// Registers a service of which a caller who sees a part of the fleet gets an instance of its own: it reads through a database that shows
    /// that part alone, and whatever it keeps in memory is of that part alone.
    /// </summary>
    /// <typeparam name="T">The service; its constructor takes other such services, or ones that belong to nobody.</typeparam>
    /// <param name="services">The services.</param>
    public static void AddPerScope<T>(this IServiceCollection services)
        where T : class
    {
        services.AddSingleton<T>();
        services.TryAddSingleton(new PerScopeTypes([typeof(Database)]));
        TypesOf(services).Types.Add(typeof(T));
    }

    private static PerScopeTypes TypesOf(IServiceCollection services) =>
        (PerScopeTypes)services.Single(service => service.ServiceType == typeof(PerScopeTypes)).ImplementationInstance!;
}
