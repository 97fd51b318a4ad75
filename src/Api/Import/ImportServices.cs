namespace Washwear.Api.Import;

/// <summary>Puts the import of spreadsheets together.</summary>
public static class ImportServices
{
    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddImport(this IServiceCollection services)
    {
        services.AddSingleton<ImportProgressQueries>();
        services.AddSingleton<MappingQueries>();
        services.AddSingleton<SheetReader>();
        services.AddSingleton<SheetImporter>();
        services.AddSingleton<ImportSheetQueries>();
        services.AddSingleton<ImportFiles>();
        services.AddSingleton<ImportReports>();
        services.AddSingleton<ImportRuns>();
        services.AddHostedService(provider => provider.GetRequiredService<ImportRuns>());
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapImport(this IEndpointRouteBuilder routes)
    {
        MappingEndpoints.Map(routes);
        ImportPages.Map(routes);
    }
}
