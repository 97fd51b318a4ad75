using Washwear.Api.Import;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Ingest;
using Washwear.Api.Sheets;

namespace Washwear.Api.Tests.Import;

/// <summary>What becomes of rows once their columns are known.</summary>
public sealed class RecordRowsTests
{
    // Vienna was at +01:00 on 2 March 2026 and at +02:00 from 29 March on; New York was at -05:00 until 8 March.
    [Theory]
    [InlineData("OVEN-0001", "2026-03-02 22:15", null, "2026-03-02T21:15:00Z")]
    [InlineData("OVEN-0001", "2026-04-02 22:15", null, "2026-04-02T20:15:00Z")]
    [InlineData("OVEN-0003", "2026-03-02 22:15", null, "2026-03-03T03:15:00Z")]
    [InlineData("OVEN-0003", "2026-03-02 22:15", "Etc/UTC", "2026-03-02T22:15:00Z")]
    [InlineData("OVEN-0003", "2026-03-02T22:15:00+02:00", null, "2026-03-02T20:15:00Z")]
    [InlineData("OVEN-0001", "2026-03-02", null, "2026-03-02T11:00:00Z")]
    [InlineData("OVEN-0001", "2026-03-29 02:30", null, "2026-03-29T01:30:00Z")]
    [InlineData("OVEN-0001", "46083.9270833333", null, "2026-03-02T21:15:00Z")] // a spreadsheet's count of days whose format was lost
    [InlineData("OVEN-0001", "46083,9270833333", null, "2026-03-02T21:15:00Z")]
    [InlineData("OVEN-0001", "46083", null, "2026-03-02T11:00:00Z")]
    public async Task Wall_times_are_those_of_the_units_site(string unit, string at, string? zone, string expected)
    {
        IncomingRow row = (await ReadAsync("heartbeat", $"unit|at¶{unit}|{at}", mapping => mapping with { TimeZone = zone }))[0];

        Assert.Null(row.Problem);
        Assert.Equal(DateTimeOffset.Parse(expected, System.Globalization.CultureInfo.InvariantCulture), row.Record!.At);
    }

    [Fact]
    public async Task Date_and_time_in_two_columns_are_one_and_an_end_before_the_start_is_the_next_day()
    {
        WashRecord[] washes = [.. (await ReadAsync("wash", "unit|date|start|end|result¶OVEN-0001|2026-03-02|22:15|23:50|ok¶OVEN-0001|2026-03-03|23:30|01:05|ok")).Select(row => (WashRecord)row.Record!)];

        Assert.Equal(95, (washes[0].EndedAt!.Value - washes[0].At).TotalMinutes);
        Assert.Equal(95, (washes[1].EndedAt!.Value - washes[1].At).TotalMinutes);
    }

    [Theory]
    [InlineData("95")]
    [InlineData("95 min")]
    [InlineData("1:35")]
    public async Task A_length_gives_the_end(string length)
    {
        var wash = (WashRecord)(await ReadAsync("wash", $"unit|date|duration|result¶OVEN-0001|2026-03-02 22:15|{length}|ok"))[0].Record!;

        Assert.Equal(95, (wash.EndedAt!.Value - wash.At).TotalMinutes);
    }

    [Fact]
    public async Task Codes_in_another_spelling_are_those_of_the_registry()
    {
        IncomingRow[] rows = await ReadAsync("part_change", "unit|date|part|reason¶oven 1|2026-03-02|Wash Pump|broken¶INV107919|2026-03-02|door_gasket|wartung¶44|2026-03-02|DRAIN VALVE|upgrade");

        Assert.Equal(["oven 1", "OVEN-0002", "0044"], rows.Select(row => row.Record!.Unit));
        Assert.Equal(["wash-pump", "door-gasket", "drain-valve"], rows.Select(row => ((PartChangeRecord)row.Record!).Position));
    }

    [Fact]
    public async Task The_same_row_has_the_same_key_in_another_order_of_columns_and_another_form_of_dates()
    {
        string key = (await ReadAsync("wash", "unit|date|result¶OVEN-0001|2026-03-02 22:15|ok"))[0].Key!;

        Assert.Equal(key, (await ReadAsync("wash", "remark|result|when|oven¶x|OK|02.03.2026 22:15|oven-0001"))[0].Key);
        Assert.NotEqual(key, (await ReadAsync("wash", "unit|date|result¶OVEN-0001|2026-03-02 22:16|ok"))[0].Key);
        Assert.StartsWith("sheet-", key, StringComparison.Ordinal);
        Assert.True(key.Length <= FieldReader.LongestKey);
    }

    [Theory]
    [InlineData("unit|date|result¶OVEN-0001|someday|ok", "started_at", "date")]
    [InlineData("unit|date|result|doses¶OVEN-0001|2026-03-02 22:15|ok|many", "detergent_doses", "number")]
    [InlineData("unit|date|result¶OVEN-0001|2026-03-02 22:15|so la la", "outcome", "unknown_word")]
    [InlineData("unit|date|result¶|2026-03-02 22:15|ok", "unit", "missing")]
    public async Task A_row_that_cannot_be_read_says_which_field_and_is_kept_as_csv(string sheet, string field, string rule)
    {
        IncomingRow row = (await ReadAsync("wash", sheet))[0];

        Assert.Null(row.Record);
        Assert.Equal((field, rule), (row.Problem!.Field, row.Problem.Rule));
        Assert.NotEmpty(row.Problem.Mend);
        Assert.StartsWith("type,key", row.Header, StringComparison.Ordinal);
        Assert.StartsWith("wash,sheet-", row.Body().Split('\n')[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Open_dates_are_refused_while_nobody_said_which_number_is_the_day()
    {
        IncomingRow row = (await ReadAsync("heartbeat", "unit|at¶OVEN-0001|02/03/2026"))[0];

        Assert.Equal("day_month_order", row.Problem!.Rule);
    }

    [Fact]
    public async Task A_visit_has_its_faults_and_what_was_found()
    {
        var visit = (VisitRecord)(await ReadAsync("visit", "unit|arrived|left|fault codes|part|cause|outcome|work done¶OVEN-0001|2026-03-02 10:00|2026-03-02 11:00|E21, E30|wash pump|scale|Repaired|new pump"))[0].Record!;

        Assert.Equal(["E21", "E30"], visit.Faults);
        Assert.Equal(("wash-pump", "scale"), (visit.Findings![0].Position, visit.Findings[0].Cause));
    }

    private static async Task<IncomingRow[]> ReadAsync(string kind, string sheet, Func<ImportMapping, ImportMapping>? change = null)
    {
        SheetProfile profile = await SheetProfile.LookAsync(MappingGuesserTests.Rows(sheet), CancellationToken.None);
        ImportMapping mapping = new MappingGuesser(ImportKinds.Find(kind)!, profile, Fleet.Codes).Make().Mapping;
        mapping = change?.Invoke(mapping) ?? mapping;
        var cells = new RowCells(mapping, profile.Headings, Fleet.Codes)
        {
            Zone = mapping.TimeZone is { } zone ? NodaTime.DateTimeZoneProviders.Tzdb[zone] : null,
        };
        var reader = new RecordRows(cells, Fleet.Registry, "import");
        List<SheetRow> rows = await MappingGuesserTests.Rows(sheet).Skip(1).ToListAsync();
        return [.. rows.Select(reader.Read)];
    }
}
