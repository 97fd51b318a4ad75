using System.IO.Compression;
using System.Text;
using Washwear.Api.Ingest;
using Washwear.Api.Sheets;

namespace Washwear.Api.Tests.Sheets;

/// <summary>What is read of a file, and what is refused before it can do harm.</summary>
public sealed class SheetFileTests : IDisposable
{
    private static readonly SheetLimits Limits = new(8 * 1024 * 1024, 64 * 1024, 250_000);

    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-sheets-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // ECMA-376 Part 1, 18.17.4.1: serial 45000 is 2023-03-15 in the 1900 system; the 1904 system is 1462 days behind. Serial 61 is 1900-03-01.
    [Theory]
    [InlineData(false, "45000", 1, nameof(CellKind.Day), "2023-03-15")]
    [InlineData(true, "43538", 1, nameof(CellKind.Day), "2023-03-15")]
    [InlineData(false, "61", 1, nameof(CellKind.Day), "1900-03-01")]
    [InlineData(false, "1", 1, nameof(CellKind.Day), "1900-01-01")]
    [InlineData(false, "45000.9270833333", 2, nameof(CellKind.Moment), "2023-03-15 22:15")]
    [InlineData(false, "0.927083333333333", 3, nameof(CellKind.Clock), "22:15")]
    [InlineData(false, "45000", 4, nameof(CellKind.Day), "2023-03-15")]
    [InlineData(false, "45000", 0, nameof(CellKind.Number), "45000")]
    [InlineData(false, "12", 5, nameof(CellKind.Number), "12")]
    public async Task Dates_are_serial_numbers_with_a_date_format(bool from1904, string serial, int style, string kind, string text)
    {
        string path = Workbooks.Write(File("dates.xlsx"), [$"<row r=\"1\"><c r=\"A1\" s=\"{style}\"><v>{serial}</v></c></row>"], from1904: from1904);

        SheetCell cell = (await RowsAsync(path))[0][0];

        Assert.Equal((kind, text), (cell.Kind.ToString(), cell.Text));
    }

    [Fact]
    public async Task Formulas_give_the_value_that_they_came_to_and_shared_words_and_gaps_are_read()
    {
        string path = Workbooks.Write(
            File("cells.xlsx"),
            [
                "<row r=\"2\"><c r=\"A2\" t=\"s\"><v>1</v></c><c r=\"C2\"><f>1+1</f><v>2</v></c><c r=\"D2\" t=\"str\"><f>\"a\"&amp;\"b\"</f><v>ab</v></c></row>",
                "<row r=\"3\"/>",
                "<row r=\"5\"><c r=\"A5\" t=\"b\"><v>1</v></c><c r=\"B5\" t=\"e\"><v>#DIV/0!</v></c><c r=\"C5\"><f>1</f></c></row>",
            ],
            shared: ["no", "Küche 3"]);

        List<SheetRow> rows = await RowsAsync(path);

        Assert.Equal([2, 5], rows.Select(row => row.Number));
        Assert.Equal(["Küche 3", "", "2", "ab"], rows[0].Cells.Select(cell => cell.Text));
        Assert.Equal([CellKind.YesNo, CellKind.Error], rows[1].Cells.Select(cell => cell.Kind));
    }

    [Fact]
    public async Task Joined_cells_all_have_the_value_of_the_first()
    {
        string path = Workbooks.Write(
            File("joined.xlsx"), [Workbooks.Row(1, "Unit", "Date"), Workbooks.Row(2, "OVEN-1", "a"), Workbooks.Row(3, "", "b"), Workbooks.Row(4, "", "c")],
            afterRows: "<mergeCells count=\"1\"><mergeCell ref=\"A2:A3\"/></mergeCells>");

        Assert.Equal(["Unit", "OVEN-1", "OVEN-1", ""], (await RowsAsync(path)).Select(row => row[0].Text));
    }

    [Fact]
    public async Task Macros_are_refused_whether_by_their_part_or_by_the_type_of_the_workbook()
    {
        string withPart = Workbooks.Write(File("macro.xlsx"), [Workbooks.Row(1, "a")], macros: true);
        string byType = Workbooks.Write(File("macro2.xlsx"), [Workbooks.Row(1, "a")], type: "application/vnd.ms-excel.sheet.macroEnabled.main+xml");

        Assert.Equal("macros", await RefusedAsync(withPart));
        Assert.Equal("macros", await RefusedAsync(byType));
    }

    [Fact]
    public async Task A_workbook_that_would_unpack_to_too_much_is_not_opened()
    {
        string path = Workbooks.Write(File("bomb.xlsx"), Enumerable.Repeat(new string(' ', 1024), 9 * 1024));
        Assert.True(new FileInfo(path).Length < 200_000);

        Assert.Equal("unpacks_too_large", await RefusedAsync(path));
    }

    // The size that a part tells of itself is made smaller than what it unpacks to, as somebody would who knows the check above.
    [Fact]
    public async Task A_part_that_lies_about_its_size_is_damage_and_never_unpacks_to_more()
    {
        string path = Workbooks.Write(File("liar.xlsx"), Enumerable.Repeat(new string(' ', 1024), 9 * 1024));
        byte[] bytes = await System.IO.File.ReadAllBytesAsync(path);
        byte[] size;
        using (ZipArchive zip = ZipFile.OpenRead(path))
        {
            size = BitConverter.GetBytes((uint)zip.GetEntry("xl/worksheets/sheet1.xml")!.Length);
        }

        int found = 0;
        for (int at = bytes.AsSpan().IndexOf(size); at >= 0 && at < bytes.Length - 4; at = bytes.AsSpan(at).IndexOf(size) is var next and >= 0 ? at + next : -1)
        {
            BitConverter.GetBytes(1024u).CopyTo(bytes, at);
            found++;
        }

        Assert.True(found > 0);
        await System.IO.File.WriteAllBytesAsync(path, bytes);

        Assert.Equal("damaged", await RefusedAsync(path));
    }

    [Theory]
    [InlineData(new byte[] { 0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, 0, 0 }, "old_workbook")]
    [InlineData(new byte[] { (byte)'P', (byte)'K', 3, 4, 1, 2, 3, 4, 5, 6 }, "damaged")]
    [InlineData(new byte[] { 1, 2, 0, 4 }, "not_a_sheet")]
    [InlineData(new byte[0], "empty")]
    public async Task Other_files_are_refused_with_what_to_do(byte[] content, string rule)
    {
        string path = File("other.xlsx");
        await System.IO.File.WriteAllBytesAsync(path, content);

        Assert.Equal(rule, await RefusedAsync(path));
    }

    [Fact]
    public async Task Half_a_workbook_is_damaged_and_never_an_error_of_ours()
    {
        string path = Workbooks.Write(File("whole.xlsx"), Enumerable.Range(1, 500).Select(i => Workbooks.Row(i, "OVEN-1", "x" + i)));
        byte[] whole = await System.IO.File.ReadAllBytesAsync(path);
        for (int cut = 5; cut < whole.Length; cut += whole.Length / 23)
        {
            await System.IO.File.WriteAllBytesAsync(path, whole[..cut]);
            Assert.Equal("damaged", await RefusedAsync(path));
        }
    }

    [Theory]
    [InlineData("Unit;Date;Hours\nOVEN-1;2026-03-02;12,5\nOVEN-2;2026-03-03;7,25\n", "12,5")]
    [InlineData("Unit\tDate\tHours\nOVEN-1\t2026-03-02\t12,5\n", "12,5")]
    [InlineData("Unit,Date,Hours\r\nOVEN-1,2026-03-02,\"12,5\"\r\n", "12,5")]
    [InlineData("sep=;\r\nUnit;Date;Hours\r\nOVEN-1;2026-03-02;12,5\r\n", "12,5")]
    [InlineData("\uFEFFUnit;Date;Hours\nOVEN-1;2026-03-02;12,5\n", "12,5")]
    public async Task The_separator_of_a_csv_is_found(string text, string third)
    {
        string path = File("a.csv");
        await System.IO.File.WriteAllTextAsync(path, text, new UTF8Encoding(false));

        List<SheetRow> rows = await RowsAsync(path);

        Assert.Equal("Unit", rows[0][0].Text);
        Assert.Equal(third, rows[1][2].Text);
    }

    [Fact]
    public async Task A_csv_that_is_no_utf8_is_read_as_windows_1252_and_says_so()
    {
        string path = File("west.csv");
        await System.IO.File.WriteAllBytesAsync(path, Encoding.Latin1.GetBytes("Gerät;Störung\nOVEN-1;E21\n"));
        using SheetFile file = await SheetFile.OpenAsync(path, null, Limits, CancellationToken.None);

        Assert.Equal("Gerät", (await file.RowsAsync(CancellationToken.None).FirstAsync())[0].Text);
        Assert.Contains(file.Notes, note => note.Contains("Windows-1252", StringComparison.Ordinal));
    }

    // A character may lie across the border of what is looked at at once.
    [Fact]
    public async Task A_long_utf8_file_is_known_as_such_wherever_its_characters_are_cut()
    {
        for (int shift = 0; shift < 4; shift++)
        {
            string path = File($"long{shift}.csv");
            await System.IO.File.WriteAllTextAsync(path, "Unit;Note\n" + new string('x', shift) + ";" + string.Concat(Enumerable.Repeat("ü€😀\n;", 20_000)), new UTF8Encoding(false));
            using SheetFile file = await SheetFile.OpenAsync(path, null, Limits, CancellationToken.None);

            Assert.Contains("UTF-8", file.Notes[0], StringComparison.Ordinal);
        }
    }

    private static async Task<List<SheetRow>> RowsAsync(string path)
    {
        using SheetFile file = await SheetFile.OpenAsync(path, null, Limits, CancellationToken.None);
        return await file.RowsAsync(CancellationToken.None).ToListAsync();
    }

    private static async Task<string> RefusedAsync(string path)
    {
        UnreadableBodyException refused = await Assert.ThrowsAsync<UnreadableBodyException>(() => RowsAsync(path));
        Assert.NotEmpty(refused.Mend);
        return refused.Rule;
    }

    private string File(string name) => Path.Combine(_folder, name);
}
