using System.CommandLine;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Washwear.Api.Http;

namespace Washwear.Api.Commands;

/// <summary>openapi: writes the contract as the program itself sees it.</summary>
internal static class WriteOpenApi
{
    private static readonly Argument<FileInfo> Target = new("file") { Description = "Where to, such as openapi.yaml." };

    public static Command Create()
    {
        var command = new Command("openapi", "Write the contract as YAML.") { Target };
        command.SetAction(async (asked, cancellationToken) =>
        {
            string yaml = await YamlAsync(cancellationToken);
            await File.WriteAllTextAsync(asked.GetValue(Target)!.FullName, yaml, cancellationToken);
            return 0;
        });
        return command;
    }

    /// <summary>The contract as YAML; no database is opened or made.</summary>
    /// <param name="cancellationToken">Stops the work.</param>
    public static async Task<string> YamlAsync(CancellationToken cancellationToken)
    {
        // The web server makes keys for cookies beside its database, even where none is opened.
        DirectoryInfo passing = Directory.CreateTempSubdirectory("washwear-openapi-");
        try
        {
            return await YamlAsync(Path.Combine(passing.FullName, "none.db"), cancellationToken);
        }
        finally
        {
            passing.Delete(recursive: true);
        }
    }

    private static async Task<string> YamlAsync(string nowhere, CancellationToken cancellationToken)
    {
        Settings settings = Settings.Load(new Dictionary<string, string>
        {
            ["urls"] = "http://127.0.0.1:0",
            ["database"] = nowhere,
            ["log_level"] = "error",
        });
        await using WebApplication app = Program.Build(settings);
        // The routes are known only once the server has started.
        await app.StartAsync(cancellationToken);
        OpenApiDocument document = await app.Services.GetRequiredKeyedService<IOpenApiDocumentProvider>(Contract.Name)
            .GetOpenApiDocumentAsync(cancellationToken);
        document.Servers?.Clear();
        string yaml = await document.SerializeAsYamlAsync(OpenApiSpecVersion.OpenApi3_1, cancellationToken);
        await app.StopAsync(cancellationToken);
        return yaml.ReplaceLineEndings("\n").TrimEnd() + "\n";
    }
}
