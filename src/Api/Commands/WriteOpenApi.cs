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
        // The program makes a folder for the keys of cookies beside its database, even where none is opened.
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
        await using WebApplication app = Program.Build(Settings.Load(new Dictionary<string, string> { ["database"] = nowhere }));

        // A server makes its routes known as it starts; what works in the background would start with it, and find no database here.
        app.UseEndpoints(_ => { });
        OpenApiDocument document = await app.Services.GetRequiredKeyedService<IOpenApiDocumentProvider>(Contract.Name)
            .GetOpenApiDocumentAsync(cancellationToken);
        document.Servers?.Clear();
        string yaml = await document.SerializeAsYamlAsync(OpenApiSpecVersion.OpenApi3_1, cancellationToken);
        return yaml.ReplaceLineEndings("\n").TrimEnd() + "\n";
    }
}
