using System.CommandLine;
using System.IO.Pipelines;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage.Archive;

namespace Washwear.Api.Commands;

/// <summary>import and export: the registry, records, or a whole database as files.</summary>
internal static class Transfer
{
    private const string UsualSource = "import";

    private static readonly Argument<FileInfo> File = new("file") { Description = "The file." };

    private static readonly Option<string?> Type = new("--type") { Description = "Type of the records of a CSV file, such as wash." };

    private static readonly Option<string> Source = new("--source")
    {
        Description = "Source of the records.",
        DefaultValueFactory = _ => UsualSource,
    };

    private static readonly Option<bool> All = new("--all") { Description = "Write the whole database, which 'import' takes into an empty one of any engine." };

    public static Command CreateImport()
    {
        var command = new Command(
            "import", "Take in a registry document (.json that holds operators, sites, ...), records (.json, .ndjson, .jsonl, .csv), or what 'export --all' wrote.")
        {
            File, Type, Source,
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

        await using WebApplication app = Offline.OpenOrCreate(asked);
        if (ArchiveImport.IsArchive(file))
        {
            return await WholeDatabase.ImportAsync(app.Services, file, cancellationToken);
        }

        return await IsRegistryAsync(file, cancellationToken)
            ? await ImportRegistryAsync(app.Services, file, cancellationToken)
            : await ImportRecordsAsync(app.Services, file, asked.GetValue(Type), asked.GetValue(Source)!, cancellationToken);
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

    private static async Task<int> ImportRecordsAsync(
        IServiceProvider services, FileInfo file, string? type, string source, CancellationToken cancellationToken)
    {
        BodyFormat format = file.Extension.ToUpperInvariant() switch
        {
            ".CSV" => BodyFormat.Csv,
            ".NDJSON" or ".JSONL" => BodyFormat.NdJson,
            ".JSON" => BodyFormat.Json,
            _ => throw new CommandException($"'{file.Extension}' is no ending that is read; use .csv, .ndjson, .jsonl or .json."),
        };
        await using FileStream stream = file.OpenRead();
        var reader = new BodyReader(format, type, source, services.GetRequiredService<Settings>().RowLimitBytes);
        try
        {
            IngestAnswer answer = await services.GetRequiredService<IngestService>().TakeInAsync(
                reader.ReadAsync(PipeReader.Create(stream), cancellationToken), new IngestOptions(), cancellationToken);
            return Tell(answer);
        }
        catch (UnreadableBodyException unreadable)
        {
            throw new CommandException(unreadable.Message + " " + unreadable.Mend);
        }
    }

    private static int Tell(IngestAnswer answer)
    {
        foreach (RowAnswer row in answer.Rows.Where(row => row.Problem is not null))
        {
            Console.Error.WriteLine($"row {row.Row}, key {row.Key ?? "?"}, {row.Problem!.Field ?? "row"}: {row.Problem.Detail} {row.Problem.Mend}");
        }

        Console.Out.WriteLine(
            $"Records: {answer.Accepted} accepted ({answer.Doubted} doubted), {answer.Duplicate} duplicate, {answer.Refused} refused.");
        return answer.Refused == 0 && answer.UnreadFromRow is null ? 0 : 1;
    }

    private static async Task<int> ExportAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = Offline.Open(asked);
        if (asked.GetValue(All))
        {
            return await WholeDatabase.ExportAsync(app.Services, asked.GetValue(File)!, cancellationToken);
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
