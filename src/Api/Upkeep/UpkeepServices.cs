namespace Washwear.Api.Upkeep;

/// <summary>Registers what keeps an installation well by itself.</summary>
public static class UpkeepServices
{
    /// <summary>Registers it.</summary>
    /// <param name="services">The services.</param>
    public static void AddUpkeep(this IServiceCollection services)
    {
        services.AddSingleton<UpToDate>();
    }
}
