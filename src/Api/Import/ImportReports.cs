using System.Globalization;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Import.Guessing;
using Washwear.Dashboard.Import;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Import;

/// <summary>Assembles what the pages of imports show.</summary>
/// <param name="queries">Uploaded sheets.</param>
/// <param name="files">Their files.</param>
/// <param name="mappings">Remembered mappings.</param>
/// <param name="reader">Opens sheets.</param>
/// <param name="settings">The settings.</param>
/// <param name="clock">The clock.</param>
internal sealed class ImportReports(ImportSheetQueries queries, ImportFiles files, MappingQueries mappings, SheetReader reader, Settings settings, TimeProvider clock)
{
    private const int RowsShown = 20;

    /// <summary>The first page.</summary>
    /// <param name="owner">Who reads.</param>
    /// <param name="mayManage">Whether sheets of the registry may be sent.</param>
    /// <param name="error">Why a file was not kept.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<ImportStartReport> StartAsync(string owner, bool mayManage, string? error, CancellationToken cancellationToken)
    {
        ImportKind[] kinds = [.. ImportKinds.All.Where(kind => mayManage || !kind.IsRegistry)];
        return new ImportStartReport(
            [.. kinds.Select(kind => new ImportKindChoice(kind.Name, kind.IsRegistry))],
            [.. (await queries.OfOwnerAsync(owner, cancellationToken)).Select(sheet => new ImportedSheet(sheet.Id, sheet.FileName, sheet.Kind, sheet.State, sheet.TouchedAt, sheet.RowsDone))],
            [.. (await mappings.ListAsync(cancellationToken)).Where(one => kinds.Any(kind => kind.Name == one.Reads.Kind)).Select(one => new Choice(one.Mapping, one.Reads.Kind))],
            settings.ImportLimitBytes / 1024 / 1024,
            (int)settings.ImportKeep.TotalHours,
            error);
    }

    /// <summary>How a sheet is read, and what would become of it.</summary>
    /// <param name="stored">The sheet.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="Ingest.UnreadableBodyException">It cannot be read.</exception>
    public async Task<ImportMapReport> MapAsync(StoredSheet stored, CancellationToken cancellationToken)
    {
        ImportMapping? mapping = stored.Mapping is null ? null : JsonSerializer.Deserialize<ImportMapping>(stored.Mapping, Json.Options);
        ImportKind kind = ImportKinds.Find(stored.Kind)!;
        using OpenedSheet sheet = await reader.OpenAsync(files.Of(stored.StoredName), kind, mapping, null, cancellationToken);
        SheetPreview preview = await SheetPreview.MakeAsync(sheet, stored.Source, clock.GetUtcNow(), RowsShown, cancellationToken);
        bool blocked = sheet.Guess.Questions.Any(question => question.Blocks);
        ImportMapping used = sheet.Mapping;
        return new ImportMapReport(
            stored.Id, stored.FileName, kind.Name, stored.Source, kind.IsRegistry,
            ImportSentences.Finding(preview.Rows, preview.Good, preview.Refused, blocked, kind.Name),
            [
                .. sheet.File.Notes,
                ImportSentences.Note(ImportNote.HeadingRow, ("row", sheet.Profile.HeadingRow.ToString(CultureInfo.InvariantCulture))),
                .. sheet.Guess.Notes,
            ],
            preview.Broken,
            [.. sheet.Guess.Questions.Select(question => new ImportQuestionShown(question.Text, question.Blocks, question.About == MappingTerms.DateOrderAsked))],
            [.. sheet.Guess.Columns.Select(column => new ImportColumn(column.Heading, column.Samples, column.Field, column.Sureness == Sureness.Likely, column.Why))],
            [.. kind.Fields.Select(field => new Choice(field.Name, ImportSentences.FieldChoice(kind.Name, field.Name, field.Required)))],
            [.. (used.Words ?? []).Select(word => new ImportWord(word.Field, kind.LabelOf(word.Field), word.Word, word.Value, kind.Find(word.Field) is { } known ? ValueWords.ValuesOf(kind, known) : []))],
            [.. FixedOf(kind, used)],
            used.DateOrder is { } order ? Json.Name(order.ToString()) : null,
            used.DecimalMark is { } mark ? Json.Name(mark.ToString()) : null,
            used.TimeZone, sheet.File.Sheets, sheet.File.Sheet,
            preview.Rows, preview.Good, preview.Doubted, preview.Repeated, preview.Refused,
            [.. preview.First.Select(RowOf)],
            [.. preview.Problems.Select(TroubleOf)],
            [.. preview.Doubts.Select(TroubleOf)],
            [.. preview.Respelled.Select(one => (one.Field, one.Spelling, one.Code))],
            !blocked && preview.Good > 0);
    }

    /// <summary>How far a sheet is, or what it came to.</summary>
    /// <param name="stored">The sheet.</param>
    public static ImportRunReport Run(StoredSheet stored) => new(
        stored.Id, stored.FileName, stored.Kind, stored.Source, ImportKinds.Find(stored.Kind)!.IsRegistry, stored.State, stored.RowsTotal, stored.RowsDone,
        stored.Accepted, stored.Duplicates, stored.Doubted, stored.Refused, stored.Trouble);

    // What is required and no column holds, and choices: those are the fields that may well be the same in all rows.
    private static IEnumerable<ImportFixed> FixedOf(ImportKind kind, ImportMapping mapping) => kind.Fields
        .Where(field => field.Role is not (FieldRole.Moment or FieldRole.Clock or FieldRole.Minutes or FieldRole.Key or FieldRole.Json) && field.Name != kind.Name
            && (mapping.FixedIn(field.Name) is not null || (!mapping.Holds(field.Name) && (field.Required || field.Role is FieldRole.Choice or FieldRole.YesNo))))
        .Select(field => new ImportFixed(field.Name, kind.LabelOf(field.Name), mapping.FixedIn(field.Name), ValueWords.ValuesOf(kind, field)));

    private static ImportTrouble TroubleOf(RowsOfAProblem of) => new(of.Example.Field, of.Example.Detail, of.Example.Mend, of.Rows, of.FirstRow);

    private static ImportRow RowOf(RowVerdict row) => new(
        row.Row,
        row.Cells,
        row.Problem is not null ? ImportVerdict.Refused : row.Repeats ? ImportVerdict.Repeated : row.Doubts.Count > 0 ? ImportVerdict.Doubted : ImportVerdict.TakenIn,
        row.Problem is { } problem ? [new(problem.Field, problem.Detail, problem.Mend, 1, row.Row)] : [.. row.Doubts.Select(doubt => new ImportTrouble(doubt.Field, doubt.Detail, doubt.Mend, 1, row.Row))]);
}
