using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Import;
using Washwear.Api.Tests.Sheets;

namespace Washwear.Api.Tests.Commands;

/// <summary>The import command with spreadsheets, in a process of its own.</summary>
public sealed class ImportSheetTests : IAsyncLifetime
{
    private const string Database = "washwear.db";
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-import-").FullName;

    public async Task InitializeAsync()
    {
        await WriteAsync("registry.json", JsonSerializer.Serialize(Fleet.Document, Json.Options));
        Assert.Equal(0, (await RunAsync("import", "registry.json")).Code);
    }

    public Task DisposeAsync()
    {
        Directory.Delete(_folder, recursive: true);
        return Task.CompletedTask;
    }

    [Fact]
    public async Task A_sure_sheet_is_taken_in_and_the_same_rows_in_another_file_are_duplicates()
    {
        await WriteAsync("washes.csv", "Geräte-Nr.;Datum;Beginn;Ende;Programm;Ergebnis\nOVEN-0001;13.03.2024;22:15;23:50;W3;fertig\noven 0002;13.03.2025;22:15;23:50;W3;abgebrochen\n");
        Workbooks.Write(
            Path.Combine(_folder, "washes.xlsx"),
            [
                Workbooks.Row(1, "Ergebnis", "Ende", "Beginn", "Datum", "Geräte-Nr.", "Programm"),
                // 13 March 2025 is day 45729.
                "<row r=\"2\"><c r=\"A2\" t=\"inlineStr\"><is><t>abgebrochen</t></is></c><c r=\"B2\" s=\"3\"><v>0.993055555555556</v></c><c r=\"C2\" s=\"3\"><v>0.927083333333333</v></c>"
                + "<c r=\"D2\" s=\"4\"><v>45729</v></c><c r=\"E2\" t=\"inlineStr\"><is><t>OVEN-0002</t></is></c><c r=\"F2\" t=\"inlineStr\"><is><t>W3</t></is></c></row>",
            ]);

        CommandRun first = await RunAsync("import", "washes.csv", "--type", "wash");
        CommandRun second = await RunAsync("import", "washes.xlsx", "--type", "wash");

        Assert.True(first.Code == 0, first.Out + first.Complaint);
        Assert.Contains("Washes: 2 accepted (1 doubted), 0 duplicate, 0 refused.", first.Out, StringComparison.Ordinal);
        Assert.Contains("'abgebrochen' means outcome stopped_by_person", first.Out, StringComparison.Ordinal);
        Assert.True(second.Code == 0, second.Out + second.Complaint);
        Assert.Contains("0 accepted (0 doubted), 1 duplicate, 0 refused.", second.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_unclear_stops_the_command_which_writes_its_guess_to_be_completed_and_remembers_it()
    {
        await WriteAsync("log.csv", "Asset,Wash date,Status\nOVEN-0001,02/03/2026 10:15 PM,Done\n");

        CommandRun unclear = await RunAsync("import", "log.csv", "--type", "wash", "--mapping-file", "m.json");
        Assert.Equal(1, unclear.Code);
        Assert.Contains("'02/03/2026 10:15 PM'", unclear.Complaint, StringComparison.Ordinal);
        Assert.Contains("date_order", unclear.Complaint, StringComparison.Ordinal);

        string guess = await File.ReadAllTextAsync(Path.Combine(_folder, "m.json"));
        await WriteAsync("m.json", guess.Replace("\"date_order\": null", "\"date_order\": \"day_first\"", StringComparison.Ordinal));
        CommandRun clear = await RunAsync("import", "log.csv", "--type", "wash", "--mapping-file", "m.json", "--remember", "log");
        Assert.True(clear.Code == 0, clear.Out + clear.Complaint);

        CommandRun again = await RunAsync("import", "log.csv", "--mapping", "LOG");
        Assert.Contains("1 duplicate", again.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Registry_sheets_are_taken_in_keep_what_they_do_not_tell_and_name_bad_rows()
    {
        await WriteAsync("ovens.csv", "Asset no;Site;Model;Installed on\nOVEN-0001;S001;INV-LARGE;2023-01-09\nOVEN-0050;s 001;inv large;2025-01-13\nOVEN-0051;NOWHERE;INV-LARGE;2025-01-13\n");

        CommandRun run = await RunAsync("import", "ovens.csv", "--type", "unit");
        await RunAsync("export", "out.json");
        RegistryDocument stored = JsonSerializer.Deserialize<RegistryDocument>(await File.ReadAllTextAsync(Path.Combine(_folder, "out.json")), Json.Options)!;

        Assert.Equal(1, run.Code);
        Assert.Contains("2 accepted (0 doubted), 0 duplicate, 1 refused.", run.Out, StringComparison.Ordinal);
        Assert.Contains("row 4", run.Complaint, StringComparison.Ordinal);
        Assert.Contains("NOWHERE", run.Complaint, StringComparison.Ordinal);
        Assert.Equal("INV100000", stored.Units.Single(unit => unit.Unit == "OVEN-0001").Serial);
        Assert.Equal("S001", stored.Units.Single(unit => unit.Unit == "OVEN-0050").Site);
    }

    // Several times what is written down at once: 5,000 rows of a sheet, 20,000 records.
    [Theory]
    [InlineData("csv", 20_000)]
    [InlineData("xlsx", 20_000)]
    [InlineData("ndjson", 60_000)]
    public async Task A_killed_import_goes_on_where_it_stopped(string form, int rows)
    {
        string name = "many." + form;
        Write(name, form, rows);
        string[] command = ["import", name, "--type", "wash", "--database", Database];

        using (Process killed = Process.Start(new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, .. command]) { WorkingDirectory = _folder, RedirectStandardOutput = true, RedirectStandardError = true })!)
        {
            _ = killed.StandardOutput.ReadToEndAsync();
            _ = killed.StandardError.ReadToEndAsync();
            await WaitForProgressAsync(killed);
            killed.Kill();
            await killed.WaitForExitAsync();
        }

        CommandRun rest = await CommandRun.OfAsync(_folder, command);

        Assert.True(rest.Code == 0, rest.Out + rest.Complaint);
        Assert.Contains("Going on after", rest.Out, StringComparison.Ordinal);
        CommandRun again = await CommandRun.OfAsync(_folder, command);
        Assert.Contains($"0 accepted (0 doubted), {rows} duplicate, 0 refused.", again.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Going on after", again.Out, StringComparison.Ordinal);
    }

    private void Write(string name, string form, int rows)
    {
        IEnumerable<(string Unit, DateTime At)> washes = Enumerable.Range(0, rows).Select(i => ($"OVEN-000{(i % 3) + 1}", new DateTime(2024, 6, 1).AddMinutes(10 * i)));
        string path = Path.Combine(_folder, name);
        switch (form)
        {
            case "csv":
                File.WriteAllLines(path, washes.Select(wash => $"{wash.Unit};{wash.At:dd.MM.yyyy HH:mm};90;W3;ok").Prepend("Ofen;Datum;Dauer;Programm;Ergebnis"));
                break;
            case "xlsx":
                string[] head = [Workbooks.Row(1, "Oven", "Start", "Minutes", "Programme", "Result")];
                Workbooks.Write(path, head.Concat(washes.Select((wash, i) => string.Create(
                    CultureInfo.InvariantCulture,
                    $"<row r=\"{i + 2}\"><c t=\"s\"><v>{i % 3}</v></c><c s=\"2\"><v>{wash.At.ToOADate():R}</v></c><c><v>90</v></c><c t=\"s\"><v>3</v></c><c t=\"s\"><v>4</v></c></row>"))),
                    shared: ["OVEN-0001", "OVEN-0002", "OVEN-0003", "W3", "ok"]);
                break;
            default:
                File.WriteAllLines(path, washes.Select((wash, i) => $$"""{"key":"k{{i}}","unit":"{{wash.Unit}}","at":"{{wash.At:yyyy-MM-ddTHH:mm:ss}}Z","programme":"W3","outcome":"completed","ended_at":"{{wash.At.AddMinutes(90):yyyy-MM-ddTHH:mm:ss}}Z"}"""));
                break;
        }
    }

    private async Task WaitForProgressAsync(Process process)
    {
        string connection = $"Data Source={Path.Combine(_folder, Database)};Mode=ReadOnly;Pooling=False";
        while (!process.HasExited)
        {
            await Task.Delay(10);
            await using var database = new Microsoft.Data.Sqlite.SqliteConnection(connection);
            await database.OpenAsync();
            await using Microsoft.Data.Sqlite.SqliteCommand count = database.CreateCommand();
            count.CommandText = "SELECT COUNT(*) FROM import_progress WHERE rows_done > 0";
            if ((long)(await count.ExecuteScalarAsync())! > 0)
            {
                return;
            }
        }

        Assert.Fail("The import was through before it could be killed.");
    }

    private Task<CommandRun> RunAsync(params string[] arguments) => CommandRun.OfAsync(_folder, [.. arguments, "--database", Database]);

    private Task WriteAsync(string name, string text) => File.WriteAllTextAsync(Path.Combine(_folder, name), text);
}
