using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>A row that was refused, with what stood in it.</summary>
/// <param name="Row">The row.</param>
/// <param name="Problem">Why.</param>
internal sealed record RefusedRow(SheetRow Row, RowProblem Problem);

/// <summary>What became of some rows, all of it on disk.</summary>
/// <param name="LastRow">Number of the last of them in the sheet.</param>
/// <param name="Rows">How many they were.</param>
/// <param name="Accepted">Taken in; of the registry: new or changed.</param>
/// <param name="Duplicate">Taken in before; of the registry: unchanged.</param>
/// <param name="Doubted">Of those taken in, ones that look wrong.</param>
/// <param name="Refused">The refused ones.</param>
internal sealed record PortionDone(int LastRow, int Rows, int Accepted, int Duplicate, int Doubted, IReadOnlyList<RefusedRow> Refused);

/// <summary>Takes the rows of a sheet in, portion by portion, through the one way in for records and the one writer of the registry.</summary>
/// <param name="ingest">The one way in.</param>
/// <param name="writer">The writer of the registry.</param>
internal sealed class SheetImporter(IngestService ingest, RegistryWriter writer)
{
    /// <summary>Rows of a portion.</summary>
    public const int PortionRows = 5_000;

    /// <summary>Takes rows in.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="source">Source of records.</param>
    /// <param name="afterRow">Number of the last row that is dealt with already; 0: none.</param>
    /// <param name="done">Told after each portion; says whether to go on.</param>
    /// <param name="cancellationToken">Stops between portions.</param>
    /// <exception cref="UnreadableBodyException">The rest of the sheet cannot be read; what was read before is taken in.</exception>
    public async Task RunAsync(OpenedSheet sheet, string source, int afterRow, Func<PortionDone, Task<bool>> done, CancellationToken cancellationToken)
    {
        Func<IReadOnlyList<SheetRow>, Func<Task<PortionDone>>> prepare = sheet.Mapping.KindOfRows.IsRegistry ? Registry(sheet) : Records(sheet, source);
        Task<PortionDone>? writing = null;
        bool goOn = true;
        try
        {
            // The next portion is read while this one is written.
            await foreach (SheetRow[] portion in sheet.RowsAsync(cancellationToken).Where(row => row.Number > afterRow).Chunk(PortionRows).WithCancellation(cancellationToken))
            {
                Func<Task<PortionDone>> write = prepare(portion);
                goOn = writing is null || await done(await writing);
                writing = null;
                if (!goOn)
                {
                    return;
                }

                writing = Task.Run(write, CancellationToken.None);
            }
        }
        finally
        {
            if (writing is not null)
            {
                await done(await writing);
            }
        }
    }

    private Func<IReadOnlyList<SheetRow>, Func<Task<PortionDone>>> Records(OpenedSheet sheet, string source)
    {
        var reader = new RecordRows(sheet.Cells(), sheet.Codes.Registry, source);
        return portion =>
        {
            IncomingRow[] rows = [.. portion.Select(reader.Read)];
            return async () =>
            {
                IngestAnswer answer = await ingest.TakeInAsync(rows.ToAsyncEnumerable(), new IngestOptions(), CancellationToken.None);
                Dictionary<int, SheetRow> byNumber = portion.ToDictionary(row => row.Number);
                RefusedRow[] refused = [.. answer.Rows.Where(row => row.Problem is not null).Select(row => new RefusedRow(byNumber[row.Row], row.Problem!))];
                return new PortionDone(portion[^1].Number, portion.Count, answer.Accepted, answer.Duplicate, answer.Doubted, refused);
            };
        };
    }

    private Func<IReadOnlyList<SheetRow>, Func<Task<PortionDone>>> Registry(OpenedSheet sheet)
    {
        var reader = new RegistryRows(sheet.Cells(), sheet.Codes.Registry);
        return portion =>
        {
            var refused = new List<RefusedRow>();
            foreach (SheetRow row in portion)
            {
                if (reader.Read(row).Problem is { } problem)
                {
                    refused.Add(new RefusedRow(row, problem));
                }
            }

            RegistryDocument document = reader.Take();
            return async () =>
            {
                (RegistryOutcome? outcome, IReadOnlyList<FieldProblem> problems) = await writer.PutAsync(document, CancellationToken.None);
                return outcome is not null
                    ? new PortionDone(portion[^1].Number, portion.Count, outcome.Created + outcome.Changed, outcome.Unchanged, 0, refused)
                    : throw new UnreadableBodyException("registry", $"{problems[0].Field}: {problems[0].Detail}", problems[0].Mend + " The registry changed meanwhile; import the sheet again.");
            };
        };
    }
}
