using System.CommandLine;
using System.Text.Json;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage.Archive;

namespace Washwear.Api.Commands;

/// <summary>import and export: the registry, records, or a whole database as files.</summary>
internal static class Transfer
{
    /// <summary>Source of records where nobody names one, in commands and on the page.</summary>
    public const string UsualSource = "import";

    private static readonly Argument<FileInfo> File = new("file") { Description = "The file." };

    private static readonly Option<string?> Type = new("--type") { Description = "What the rows of a sheet are: a type of record, such as wash, or operator, site, model, unit or rule." };

    private static readonly Option<string> Source = new("--source")
    {
        Description = "Source of the records.",
        DefaultValueFactory = _ => UsualSource,
    };

    private static readonly Option<bool> All = new("--all") { Description = "Write the whole database, which 'import' takes into an empty one of any engine." };

    private static readonly Option<bool> FromStart = new("--from-start") { Description = "Begin with the first row, even if a killed import came further." };

    public static Command CreateImport()
    {
        var command = new Command(
            "import",
            "Take in a registry document (.json that holds operators, sites, ...), records (.json, .ndjson, .jsonl, .csv) or a spreadsheet (.xlsx, .csv) "
            + "with headings of any kind, or what 'export --all' wrote. A killed import goes on where it stopped.")
        {
            File, Type, Source, SheetTransfer.Mapping, SheetTransfer.MappingFile, SheetTransfer.Remember, SheetTransfer.Sheet, FromStart,
        };
        command.SetAction(ImportAsync);
        return command;
    }

    public static Command CreateExport()
    {
        var command = new Command("export", "Write the registry as one JSON document, or with --all the whole database for another engine.") { File, All };
        command.SetAction(ExportAsync);
        return command;
    }

    private static async Task<int> ImportAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        FileInfo file = asked.GetValue(File)!;
        if (!file.Exists)
        {
            throw new CommandException($"There is no file {file.FullName}.");
        }

        await using WebApplication app = await Offline.OpenOrCreateAsync(asked);
        return await app.Services.GetRequiredService<AuditLog>()
            .CommandAsync("database.import", "import", () => ImportAsync(app, file, asked, cancellationToken));
    }

    private static async Task<int> ImportAsync(WebApplication app, FileInfo file, ParseResult asked, CancellationToken cancellationToken)
    {
        if (ArchiveImport.IsArchive(file))
        {
            return await WholeDatabase.ImportAsync(app.Services, file, cancellationToken);
        }

        var order = new ImportOrder(file, asked.GetValue(Type), asked.GetValue(Source)!, asked.GetValue(FromStart));
        return await IsRegistryAsync(file, cancellationToken) ? await ImportRegistryAsync(app.Services, file, cancellationToken)
            : await SheetTransfer.IsSheetAsync(file, order.Type, asked, cancellationToken) ? await SheetTransfer.RunAsync(app.Services, order, asked, cancellationToken)
            : await RecordTransfer.RunAsync(app.Services, order, cancellationToken);
    }

    private static async Task<int> ImportRegistryAsync(IServiceProvider services, FileInfo file, CancellationToken cancellationToken)
    {
        await using FileStream stream = file.OpenRead();
        BodyRead<RegistryDocument> read = await JsonBody.ReadAsync<RegistryDocument>(stream, cancellationToken);
        if (read.Value is null)
        {
            return Complain(read.Problem!.Problem);
        }

        (RegistryOutcome? outcome, IReadOnlyList<FieldProblem> problems) =
            await services.GetRequiredService<RegistryWriter>().PutAsync(read.Value, cancellationToken);
        if (outcome is null)
        {
            return Complain(Problems.Invalid(problems).Problem);
        }

        Console.Out.WriteLine($"Registry: {outcome.Created} created, {outcome.Changed} changed, {outcome.Unchanged} as they were.");
        return 0;
    }

    private static async Task<int> ExportAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = await Offline.OpenAsync(asked);
        if (asked.GetValue(All))
        {
            return await app.Services.GetRequiredService<AuditLog>().CommandAsync(
                "database.export", "export --all", () => WholeDatabase.ExportAsync(app.Services, asked.GetValue(File)!, cancellationToken));
        }

        RegistrySnapshot registry = await app.Services.GetRequiredService<RegistryCache>().CurrentAsync(cancellationToken);
        await using FileStream stream = asked.GetValue(File)!.Create();
        await JsonSerializer.SerializeAsync(stream, RegistryDocuments.Of(registry), Json.Options, cancellationToken);
        return 0;
    }

    // A registry document is an object with lists of operators, sites, models, units and rules; a record has a type and a key.
    private static async Task<bool> IsRegistryAsync(FileInfo file, CancellationToken cancellationToken)
    {
        if (!file.Extension.Equals(".json", StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }

        try
        {
            await using FileStream stream = file.OpenRead();
            using JsonDocument document = await JsonDocument.ParseAsync(stream, default, cancellationToken);
            return document.RootElement.ValueKind == JsonValueKind.Object && document.RootElement.TryGetProperty("operators", out _);
        }
        catch (JsonException)
        {
            return false;
        }
    }

    private static int Complain(Problem problem)
    {
        Console.Error.WriteLine(problem.Detail);
        foreach (FieldProblem error in problem.Errors ?? [])
        {
            Console.Error.WriteLine($"{error.Field}: {error.Detail} {error.Mend}");
        }

        return 1;
    }
}

/// <summary>What the import command was asked for.</summary>
/// <param name="File">The file.</param>
/// <param name="Type">What the rows are; null: they say it themselves.</param>
/// <param name="Source">Source of the records.</param>
/// <param name="FromStart">Whether to begin with the first row.</param>
internal sealed record ImportOrder(FileInfo File, string? Type, string Source, bool FromStart);
