using System.Net;
using System.Text;
using System.Text.Json;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Http;
using Washwear.Api.Import;
using Washwear.Api.Security;
using Washwear.Api.Tests.Sheets;

namespace Washwear.Api.Tests.Import;

/// <summary>The pages of imports over real HTTP, as a browser without scripts sends their forms.</summary>
public sealed class ImportPageTests : IAsyncLifetime
{
    private const string Log = "Asset,Wash date,Status\nOVEN-0001,2026-02-13 22:15,Done\noven 0002,2026-02-13 22:15,Aborted\nOVEN-9999,2026-02-13 22:15,Done\n";

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        using HttpResponseMessage put = await _host.Admin.PutAsync("/v1/registry", new StringContent(JsonSerializer.Serialize(Fleet.Document, Json.Options), Encoding.UTF8, "application/json"));
        Assert.Equal(HttpStatusCode.OK, put.StatusCode);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task A_sheet_is_looked_at_taken_in_and_gives_its_refused_rows_to_be_mended()
    {
        string address = await UploadAsync(_host.Admin, "wash", "log.csv", Encoding.UTF8.GetBytes(Log));
        IHtmlDocument map = await PageAsync(_host.Admin, address);
        Assert.Contains("2 of 3 rows would be taken in", map.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);

        await SubmitAsync(_host.Admin, map, address, "start");
        IHtmlDocument result = await EndOfAsync(address);

        Assert.Contains("2 rows taken in, 1 refused", result.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
        string refused = await _host.Admin.GetStringAsync(address + "/refused.csv");
        Assert.Contains("OVEN-9999", refused, StringComparison.Ordinal);
        Assert.DoesNotContain("oven 0002", refused, StringComparison.Ordinal);

        string mended = await UploadAsync(_host.Admin, "wash", "mended.csv", Encoding.UTF8.GetBytes(refused.Replace("OVEN-9999", "OVEN-0003", StringComparison.Ordinal)));
        Assert.Contains("The 1 row would be taken in", (await PageAsync(_host.Admin, mended)).QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_list_for_a_spreadsheet_with_decimal_commas_comes_back_in_with_what_was_changed()
    {
        const string Site = """{"operator":"OP1","name":"Küche; alte Halle","time_zone":"Europe/Vienna","water_hardness_mg_per_l":210.5}""";
        using HttpResponseMessage put = await _host.Admin.PutAsync("/v1/sites/ALT", new StringContent(Site.Replace("OP1", Fleet.Document.Sites[0].Operator, StringComparison.Ordinal), Encoding.UTF8, "application/json"));
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());

        byte[] file = await _host.Admin.GetByteArrayAsync("/v1/sites?format=csv&decimal_mark=comma");
        Assert.Equal([0xEF, 0xBB, 0xBF], file[..3]);
        string text = Encoding.UTF8.GetString(file);
        Assert.StartsWith("\uFEFFsite;operator;name;time_zone;", text, StringComparison.Ordinal);
        Assert.Contains(";\"Küche; alte Halle\";Europe/Vienna;;;210,5;", text, StringComparison.Ordinal);

        string address = await UploadAsync(_host.Admin, "site", "kuechen.csv", Encoding.UTF8.GetBytes(text.Replace("210,5", "211,25", StringComparison.Ordinal)));
        await SubmitAsync(_host.Admin, await PageAsync(_host.Admin, address), address, "start");
        await EndOfAsync(address);
        using JsonDocument site = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/sites/ALT"));
        Assert.Equal(211.25, site.RootElement.GetProperty("water_hardness_mg_per_l").GetDouble());
        Assert.Equal("Küche; alte Halle", site.RootElement.GetProperty("name").GetString());
    }

    [Fact]
    public async Task Refused_rows_of_a_sheet_with_semicolons_have_semicolons_too()
    {
        string address = await UploadAsync(_host.Admin, "wash", "log.csv", Encoding.UTF8.GetBytes(Log.Replace(',', ';')));
        await SubmitAsync(_host.Admin, await PageAsync(_host.Admin, address), address, "start");
        await EndOfAsync(address);
        string refused = Encoding.UTF8.GetString(await _host.Admin.GetByteArrayAsync(address + "/refused.csv"));
        Assert.StartsWith("\uFEFFAsset;Wash date;Status;what is wrong", refused, StringComparison.Ordinal);
        Assert.Contains("\r\nOVEN-9999;2026-02-13 22:15;Done;", refused, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_mark_of_decimals_is_asked_for_and_nothing_else_changes_a_file()
    {
        string point = await _host.Admin.GetStringAsync("/v1/sites?format=csv");
        Assert.Equal(point, await _host.Admin.GetStringAsync("/v1/sites?format=csv&decimal_mark=point"));
        using HttpResponseMessage wrong = await _host.Admin.GetAsync("/v1/sites?format=csv&decimal_mark=semicolon");
        await ProblemAssert.ListsAsync(wrong, "decimal_mark choice");
        Assert.Contains(",key,", await _host.Admin.GetStringAsync("/import/templates/wash.csv"), StringComparison.Ordinal);
        Assert.Contains(";key;", await _host.Admin.GetStringAsync("/import/templates/wash.csv?decimal_mark=comma"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Cleaning_rules_come_in_by_a_sheet_and_those_that_contradict_each_other_are_refused_row_by_row()
    {
        const string Rules = "Regel;Stufe;Alle Tage;Nachfrist;Grundlage;Standort\ntaeglich;standard;1;4,5;Hausregel 7;\nzweite;standard;2;4;Hausregel 8;\nintensiv;intensiv;7;12;Hausregel 9;S001\nohne;light;;4;Hausregel 9;\n";
        string address = await UploadAsync(_host.Admin, "rule", "regeln.csv", Encoding.UTF8.GetBytes(Rules));
        IHtmlDocument map = await PageAsync(_host.Admin, address);
        Assert.Contains("2 of 4 rows would be taken in as cleaning rules", map.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("Rule 'taeglich' is for the same units and the same grade", map.Body!.TextContent, StringComparison.Ordinal);

        await SubmitAsync(_host.Admin, map, address, "start");
        await EndOfAsync(address);

        using JsonDocument rules = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/rules"));
        Assert.Equal(
            ["intensiv 7 12 S001", "taeglich 1 4.5 "],
            rules.RootElement.GetProperty("items").EnumerateArray().Select(rule =>
                $"{rule.GetProperty("rule")} {rule.GetProperty("every_trading_days")} {rule.GetProperty("grace_hours")} {rule.GetProperty("scope").GetProperty("site")}"));
    }

    [Fact]
    public async Task What_is_open_is_asked_and_answered_and_the_mapping_is_remembered()
    {
        string address = await UploadAsync(_host.Admin, "wash", "us.csv", Encoding.UTF8.GetBytes("Oven,Date,Result\nOVEN-0001,02/03/2026 22:15,ok\n"));
        IHtmlDocument asking = await PageAsync(_host.Admin, address);
        Assert.Null(asking.QuerySelector("button[value=start]"));
        Assert.NotNull(asking.QuerySelector("input[type=radio][value=month_first]"));

        await SubmitAsync(_host.Admin, asking, address, "check", ("date_order", "month_first"), ("remember", "us-log"));
        IHtmlDocument answered = await PageAsync(_host.Admin, address);

        Assert.NotNull(answered.QuerySelector("button[value=start]"));
        using JsonDocument remembered = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/import/mappings/US-LOG"));
        Assert.Equal("month_first", remembered.RootElement.GetProperty("reads").GetProperty("date_order").GetString());
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("xlsx")]
    public async Task A_template_that_comes_back_unchanged_takes_in_nothing_and_a_filled_one_its_rows(string form)
    {
        foreach (ImportKind kind in ImportKinds.All)
        {
            byte[] template = await _host.Admin.GetByteArrayAsync($"/import/templates/{kind.Name}.{form}");
            using HttpResponseMessage unchanged = await SendAsync(_host.Admin, kind.Name, "template." + form, template);
            Assert.Equal(HttpStatusCode.BadRequest, unchanged.StatusCode);
            Assert.Contains("no rows below", await unchanged.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        string filled = form == "csv"
            ? await _host.Admin.GetStringAsync("/import/templates/meter.csv") + ",OVEN-0001,2026-02-13,,812,\r\n"
            : string.Empty;
        string address = form == "csv"
            ? await UploadAsync(_host.Admin, "meter", "filled.csv", Encoding.UTF8.GetBytes(filled))
            : await UploadAsync(_host.Admin, "meter", "filled.xlsx", await File.ReadAllBytesAsync(Workbooks.Write(
                Path.Combine(_host.Folder, "filled.xlsx"), [Workbooks.Row(1, "about this row", "unit", "at", "at.time", "washes_total"), Workbooks.Row(4, "", "OVEN-0001", "2026-02-13", "", "812")])));

        await SubmitAsync(_host.Admin, await PageAsync(_host.Admin, address), address, "start");
        Assert.Contains("1 row taken in", (await EndOfAsync(address)).QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_belongs_to_who_sent_it_and_the_registry_to_who_may_manage_it()
    {
        HttpClient technician = await _host.ClientAsync(Abilities.Ingest, "technician");
        string address = await UploadAsync(_host.Admin, "wash", "log.csv", Encoding.UTF8.GetBytes(Log));

        using HttpResponseMessage foreign = await technician.GetAsync(address);
        using HttpResponseMessage registry = await SendAsync(technician, "operator", "o.csv", "operator,name\nX,Y\n"u8.ToArray());

        Assert.Equal(HttpStatusCode.NotFound, foreign.StatusCode);
        Assert.Equal(HttpStatusCode.BadRequest, registry.StatusCode);
        Assert.Contains("not change the registry", await registry.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_that_a_restart_interrupted_goes_on_behind_the_row_that_was_noted()
    {
        string address = await UploadAsync(_host.Admin, "wash", "log.csv", Encoding.UTF8.GetBytes(Log));
        await SubmitAsync(_host.Admin, await PageAsync(_host.Admin, address), address, "check");
        await _host.Database.WriteAsync(
            session => session.Connection.ExecuteAsync(session.Command("UPDATE import_sheet SET state = 'running', last_row = 2, rows_done = 1, accepted = 1, rows_total = 3", null, CancellationToken.None)), CancellationToken.None);
        _host.Services.GetRequiredService<ImportRuns>().Wake();

        Assert.Contains("2 rows taken in, 1 refused", (await EndOfAsync(address)).QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
        using JsonDocument taken = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/records?type=wash"));
        Assert.Equal("OVEN-0002", taken.RootElement.GetProperty("items")[0].GetProperty("unit").GetString());
        Assert.Equal(1, taken.RootElement.GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task Files_that_cannot_be_read_are_refused_with_what_to_do_and_not_kept()
    {
        foreach (byte[] content in (byte[][])[[0xD0, 0xCF, 0x11, 0xE0, 0, 0, 0, 0], "PK\u0003\u0004nothing"u8.ToArray(), [0, 1, 2]])
        {
            using HttpResponseMessage answer = await SendAsync(_host.Admin, "wash", "x.xlsx", content);
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        }

        Assert.Empty(Directory.GetFiles(Path.Combine(_host.Folder, "imports")));
    }

    private async Task<IHtmlDocument> EndOfAsync(string address)
    {
        for (int tries = 0; tries < 200; tries++)
        {
            IHtmlDocument page = await PageAsync(_host.Admin, address);
            if (page.QuerySelector("meta[http-equiv=refresh]") is null)
            {
                return page;
            }

            await Task.Delay(50);
        }

        throw new InvalidOperationException("The import did not end.");
    }

    private static async Task<string> UploadAsync(HttpClient client, string kind, string name, byte[] content)
    {
        using HttpResponseMessage answer = await SendAsync(client, kind, name, content);
        Assert.True(answer.StatusCode == HttpStatusCode.SeeOther, await answer.Content.ReadAsStringAsync());
        return answer.Headers.Location!.ToString();
    }

    private static async Task<HttpResponseMessage> SendAsync(HttpClient client, string kind, string name, byte[] content)
    {
        IHtmlDocument start = await PageAsync(client, "/import");
        using var form = new MultipartFormDataContent
        {
            { new StringContent(((IHtmlInputElement)start.QuerySelector("main input[type=hidden]")!).Value), "__RequestVerificationToken" },
            { new StringContent(kind), "kind" },
            { new ByteArrayContent(content), "file", name },
        };
        return await client.PostAsync("/import", form);
    }

    private static async Task<IHtmlDocument> PageAsync(HttpClient client, string address)
    {
        using HttpResponseMessage answer = await client.GetAsync(address);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, text);
        return await new HtmlParser().ParseDocumentAsync(text);
    }

    private static async Task SubmitAsync(HttpClient client, IHtmlDocument page, string address, string act, params (string Name, string Value)[] changes)
    {
        var fields = new List<KeyValuePair<string, string>>();
        foreach (AngleSharp.Dom.IElement element in page.QuerySelectorAll("form.import-map input, form.import-map select"))
        {
            (string name, string value, bool sent) = element switch
            {
                IHtmlInputElement { Type: "radio" } radio => (radio.Name!, radio.Value, radio.IsChecked),
                IHtmlInputElement input => (input.Name!, input.Value, true),
                IHtmlSelectElement select => (select.Name!, select.Value ?? string.Empty, true),
                _ => (string.Empty, string.Empty, false),
            };
            if (sent && !changes.Any(change => change.Name == name))
            {
                fields.Add(new(name, value));
            }
        }

        fields.AddRange(changes.Select(change => new KeyValuePair<string, string>(change.Name, change.Value)));
        fields.Add(new("act", act));
        using HttpResponseMessage answer = await client.PostAsync(address, new FormUrlEncodedContent(fields));
        Assert.True(answer.StatusCode == HttpStatusCode.SeeOther, await answer.Content.ReadAsStringAsync());
    }
}
