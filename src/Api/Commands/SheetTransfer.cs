using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Import;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.Import;

namespace Washwear.Api.Commands;

/// <summary>import of spreadsheets, whatever their headings. Asks nothing: what is not sure is printed, with how to say it.</summary>
internal static class SheetTransfer
{
    public static readonly Option<string?> Mapping = new("--mapping") { Description = "Name of a remembered mapping by which the sheet is read.", HelpName = "name" };

    public static readonly Option<FileInfo?> MappingFile = new("--mapping-file")
    {
        Description = "File with a mapping as JSON; where there is none and something is unclear, the guess is written there to be completed.",
        HelpName = "file",
    };

    public static readonly Option<string?> Remember = new("--remember") { Description = "Name under which to remember the mapping.", HelpName = "name" };

    public static readonly Option<string?> Sheet = new("--sheet") { Description = "Name of the sheet in a workbook. Default: the first.", HelpName = "name" };

    private static readonly JsonSerializerOptions Indented = new(Json.Options) { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Whether the file is a spreadsheet, rather than one written as the API reads it.</summary>
    public static async Task<bool> IsSheetAsync(FileInfo file, string? type, ParseResult asked, CancellationToken cancellationToken)
    {
        bool isCsv = file.Extension.Equals(".csv", StringComparison.OrdinalIgnoreCase);
        if (!isCsv || asked.GetValue(Mapping) is not null || asked.GetValue(MappingFile) is not null)
        {
            return isCsv || file.Extension.ToUpperInvariant() is ".XLSX" or ".XLSM" or ".XLS" or ".TSV";
        }

        if (type is not null && !RecordFields.Allowed.ContainsKey(type))
        {
            return true;
        }

        using var reader = new StreamReader(file.FullName, Encoding.UTF8);
        string header = await reader.ReadLineAsync(cancellationToken) ?? string.Empty;
        try
        {
            CsvHeader.Read(new RawRow(1, Encoding.UTF8.GetBytes(header), false), type);
            return false;
        }
        catch (UnreadableBodyException)
        {
            return true;
        }
    }

    public static async Task<int> RunAsync(IServiceProvider services, ImportOrder order, ParseResult asked, CancellationToken cancellationToken)
    {
        ImportMapping? given = await GivenAsync(services, asked, cancellationToken);
        ImportKind kind = KindOf(order.Type, given);
        try
        {
            using OpenedSheet sheet = await services.GetRequiredService<SheetReader>().OpenAsync(order.File.FullName, kind, given, asked.GetValue(Sheet), cancellationToken);
            Describe(sheet);
            bool sure = given is null ? sheet.Guess.IsSure : sheet.Guess.Questions.Count == 0;
            if (!sure)
            {
                return await TellUnclearAsync(sheet, given is not null, asked.GetValue(MappingFile), cancellationToken);
            }

            if (asked.GetValue(Remember) is { } name)
            {
                await RememberAsync(services, name, sheet.Mapping, cancellationToken);
            }

            return await TakeInAsync(services, order, sheet, cancellationToken);
        }
        catch (UnreadableBodyException unreadable)
        {
            throw new CommandException(unreadable.Message + " " + unreadable.Mend);
        }
    }

    private static async Task<int> TakeInAsync(IServiceProvider services, ImportOrder order, OpenedSheet sheet, CancellationToken cancellationToken)
    {
        string terms = $"sheet\n{order.Source}\n{JsonSerializer.Serialize(sheet.Mapping, Json.Options)}";
        var watch = new ImportWatch(services.GetRequiredService<ImportProgressQueries>(), await ImportWatch.DigestAsync(order.File, terms, cancellationToken));
        await watch.BeginAsync(order.FromStart, cancellationToken);
        int afterRow = await RowNumberAfterAsync(sheet, watch.Before, cancellationToken);
        try
        {
            await services.GetRequiredService<SheetImporter>().RunAsync(
                sheet,
                order.Source,
                afterRow,
                async portion =>
                {
                    foreach (RefusedRow refused in portion.Refused)
                    {
                        watch.Tell(refused.Row.Number, null, refused.Problem);
                    }

                    await watch.DoneAsync(portion.Rows, (portion.Accepted, portion.Doubted, portion.Duplicate, portion.Refused.Count), null);
                    return !cancellationToken.IsCancellationRequested;
                },
                cancellationToken);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            return watch.Stopped();
        }

        return cancellationToken.IsCancellationRequested ? watch.Stopped() : await watch.EndAsync(sheet.Mapping.KindOfRows.Label);
    }

    private static async Task<int> RowNumberAfterAsync(OpenedSheet sheet, int rows, CancellationToken cancellationToken) =>
        rows == 0 ? 0 : await sheet.RowsAsync(cancellationToken).Take(rows).Select(row => row.Number).LastOrDefaultAsync(cancellationToken);

    private static async Task<ImportMapping?> GivenAsync(IServiceProvider services, ParseResult asked, CancellationToken cancellationToken)
    {
        if (asked.GetValue(Mapping) is { } name)
        {
            MappingQueries mappings = services.GetRequiredService<MappingQueries>();
            return (await mappings.FindAsync(name, cancellationToken))?.Reads
                ?? throw new CommandException($"There is no mapping '{name}'; remembered are: {string.Join(", ", (await mappings.ListAsync(cancellationToken)).Select(one => one.Mapping))}.");
        }

        if (asked.GetValue(MappingFile) is not { Exists: true } file)
        {
            return null;
        }

        await using FileStream stream = file.OpenRead();
        BodyRead<ImportMapping> read = await JsonBody.ReadAsync<ImportMapping>(stream, cancellationToken);
        IReadOnlyList<FieldProblem> problems = read.Value is null ? read.Problem!.Problem.Errors ?? [] : MappingRules.Check(read.Value);
        return problems.Count == 0 && read.Value is not null
            ? read.Value
            : throw new CommandException($"{file.FullName} is no mapping. " + (problems.Count == 0 ? read.Problem!.Problem.Detail : string.Join(' ', problems.Select(problem => $"{problem.Field}: {problem.Detail} {problem.Mend}"))));
    }

    private static ImportKind KindOf(string? type, ImportMapping? given)
    {
        string? name = type ?? given?.Kind;
        return ImportKinds.Find(name) is not { } kind
            ? throw new CommandException((name is null ? "Say with --type what the rows of the sheet are: " : $"'{name}' is no kind of rows; --type takes ") + ImportKinds.List + ".")
            : given is not null && given.Kind != kind.Name
            ? throw new CommandException($"The mapping is for {given.Kind}, not for {kind.Name}.")
            : kind;
    }

    private static async Task RememberAsync(IServiceProvider services, string name, ImportMapping mapping, CancellationToken cancellationToken)
    {
        if (!Codes.IsValid(name))
        {
            throw new CommandException("A mapping's name has 1 to 64 printable characters and no space at either end.");
        }

        await services.GetRequiredService<MappingQueries>().PutAsync(name, mapping, cancellationToken);
        Console.Out.WriteLine($"Remembered as '{name}'.");
    }

    private static void Describe(OpenedSheet sheet)
    {
        Console.Out.WriteLine(string.Join(' ', [.. sheet.File.Notes, ImportSentences.Note(ImportNote.HeadingRow, ("row", sheet.Profile.HeadingRow.ToString(CultureInfo.InvariantCulture)))]));
        int width = Math.Min(30, sheet.Guess.Columns.Max(column => column.Heading.Length));
        foreach (GuessedColumn column in sheet.Guess.Columns)
        {
            string field = column.Field ?? "(left out)";
            Console.Out.WriteLine($"  {column.Heading.PadRight(width)}  {field.PadRight(22)}  {(column.Sureness == Sureness.Likely ? "likely: " : string.Empty)}{column.Why}");
        }

        foreach (MappedWord word in sheet.Mapping.Words?.Where(word => word.Value is not null) ?? [])
        {
            Console.Out.WriteLine($"  '{word.Word}' means {word.Field} {word.Value}");
        }

        foreach (string note in sheet.Guess.Notes)
        {
            Console.Out.WriteLine("  " + note);
        }
    }

    private static async Task<int> TellUnclearAsync(OpenedSheet sheet, bool wasGiven, FileInfo? file, CancellationToken cancellationToken)
    {
        Console.Error.WriteLine("Nothing was taken in. What is unclear:");
        foreach (ImportQuestion question in sheet.Guess.Questions)
        {
            Console.Error.WriteLine($"  {question.Text} Say it as {question.Say}");
        }

        foreach (GuessedColumn column in wasGiven ? [] : sheet.Guess.Columns.Where(column => column.Sureness == Sureness.Likely))
        {
            Console.Error.WriteLine($"  Is '{column.Heading}' really {column.Field}? ({column.Why})");
        }

        if (wasGiven)
        {
            Console.Error.WriteLine("Complete the mapping and run the command again.");
        }
        else if (file is not null)
        {
            await File.WriteAllTextAsync(file.FullName, JsonSerializer.Serialize(sheet.Mapping, Indented) + "\n", cancellationToken);
            Console.Error.WriteLine($"The guess was written to {file.FullName}: complete it and run the same command again.");
        }
        else
        {
            Console.Error.WriteLine("Run the command with --mapping-file FILE: it writes the guess there; complete it and run it again. Or map the columns on the page /import.");
        }

        return 1;
    }
}
