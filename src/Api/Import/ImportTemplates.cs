using Washwear.Api.Http;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>Templates to fill in: headings, a line that explains each column, and an invented example. Both lines begin with #, so that they
/// are left out when the file comes back.</summary>
internal static class ImportTemplates
{
    private const string NoteHeading = "about this row";

    /// <summary>A template as a workbook.</summary>
    /// <param name="kind">What its rows are.</param>
    public static byte[] Workbook(ImportKind kind)
    {
        using var stream = new MemoryStream();
        XlsxWriter.Write(
            stream,
            kind.Name,
            [
                new WrittenColumn([NoteHeading, Explanation, ExampleMark], []),
                .. kind.Fields.Select(field => new WrittenColumn([field.Name, Help(kind, field), field.Example], ValueWords.ValuesOf(kind, field))),
            ]);
        return stream.ToArray();
    }

    /// <summary>A template as CSV.</summary>
    /// <param name="kind">What its rows are.</param>
    /// <param name="form">What tells cells apart.</param>
    public static string Text(ImportKind kind, CsvForm form) => Csv.Text(
        [new CsvColumn<(string Note, Func<ImportField, string> Cell)>(NoteHeading, row => row.Note), .. kind.Fields.Select(field => new CsvColumn<(string Note, Func<ImportField, string> Cell)>(field.Name, row => row.Cell(field)))],
        [(Explanation, field => Help(kind, field)), (ExampleMark, field => field.Example)],
        form with { Begin = "\uFEFF" });

    private const string Explanation = "# what goes in; rows that begin with # are left out";

    private const string ExampleMark = "# invented example; fill in from the next row on, this column stays empty";

    private static string Help(ImportKind kind, ImportField field) => (field.Required ? "Required. " : string.Empty) + kind.HelpOf(field);
}
