using System.IO.Compression;
using System.Text;

namespace Washwear.Api.Tests.Sheets;

/// <summary>Writes workbooks as ECMA-376 has them, part by part, independently of the library that reads them.</summary>
internal static class Workbooks
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Packages = "http://schemas.openxmlformats.org/package/2006/";

    /// <summary>Cell styles: 0 general, 1 date, 2 date and time, 3 time of day, 4 dd.mm.yyyy, 5 a number with 'day' in quotes.</summary>
    private const string Styles =
        $"""
        <styleSheet xmlns="{Main}"><numFmts count="2"><numFmt numFmtId="164" formatCode="dd\.mm\.yyyy"/><numFmt numFmtId="165" formatCode="0&quot; days&quot;"/></numFmts>
        <fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>
        <cellXfs count="6"><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="22"/><xf numFmtId="20"/><xf numFmtId="164"/><xf numFmtId="165"/></cellXfs></styleSheet>
        """;

    /// <summary>Writes a workbook.</summary>
    /// <param name="path">Where to.</param>
    /// <param name="rows">Rows of the sheet as XML.</param>
    /// <param name="shared">Words that cells share.</param>
    /// <param name="from1904">Whether dates count from 1904.</param>
    /// <param name="afterRows">XML behind the rows, such as joined cells.</param>
    /// <param name="macros">Whether there are macros.</param>
    /// <param name="type">Content type of the workbook.</param>
    public static string Write(
        string path, IEnumerable<string> rows, IReadOnlyList<string>? shared = null, bool from1904 = false, string afterRows = "", bool macros = false,
        string type = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml")
    {
        using var zip = new ZipArchive(File.Create(path), ZipArchiveMode.Create);
        string parts = shared is null ? string.Empty : """<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/>""";
        Add(zip, "[Content_Types].xml", $"""<Types xmlns="{Packages}content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/><Override PartName="/xl/workbook.xml" ContentType="{type}"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>{parts}</Types>""");
        Add(zip, "_rels/.rels", $"""<Relationships xmlns="{Packages}relationships"><Relationship Id="rId1" Type="{Relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>""");
        string strings = shared is null ? string.Empty : $"""<Relationship Id="rId3" Type="{Relations}/sharedStrings" Target="sharedStrings.xml"/>""";
        Add(zip, "xl/_rels/workbook.xml.rels", $"""<Relationships xmlns="{Packages}relationships"><Relationship Id="rId1" Type="{Relations}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="{Relations}/styles" Target="styles.xml"/>{strings}</Relationships>""");
        Add(zip, "xl/workbook.xml", $"""<workbook xmlns="{Main}" xmlns:r="{Relations}"><workbookPr{(from1904 ? " date1904=\"1\"" : string.Empty)}/><sheets><sheet name="Rows" sheetId="1" r:id="rId1"/></sheets></workbook>""");
        Add(zip, "xl/styles.xml", Styles);
        if (shared is not null)
        {
            Add(zip, "xl/sharedStrings.xml", $"""<sst xmlns="{Main}">{string.Concat(shared.Select(word => $"<si><t xml:space=\"preserve\">{System.Security.SecurityElement.Escape(word)}</t></si>"))}</sst>""");
        }

        if (macros)
        {
            Add(zip, "xl/vbaProject.bin", "not really");
        }

        using var sheet = new StreamWriter(zip.CreateEntry("xl/worksheets/sheet1.xml", CompressionLevel.Fastest).Open(), new UTF8Encoding(false));
        sheet.Write($"""<worksheet xmlns="{Main}"><sheetData>""");
        foreach (string row in rows)
        {
            sheet.Write(row);
        }

        sheet.Write($"</sheetData>{afterRows}</worksheet>");
        return path;
    }

    /// <summary>A row of words, inline.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="cells">The words.</param>
    public static string Row(int number, params string[] cells) =>
        $"<row r=\"{number}\">{string.Concat(cells.Select((cell, i) => $"<c r=\"{(char)('A' + i)}{number}\" t=\"inlineStr\"><is><t>{System.Security.SecurityElement.Escape(cell)}</t></is></c>"))}</row>";

    private static void Add(ZipArchive zip, string name, string text)
    {
        using var writer = new StreamWriter(zip.CreateEntry(name).Open(), new UTF8Encoding(false));
        writer.Write(text);
    }
}
