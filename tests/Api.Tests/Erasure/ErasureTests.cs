using System.IO.Compression;
using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Erasure;
using Washwear.Api.Security;
using Washwear.Api.Tests.Commands;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Erasure;

/// <summary>A person's name goes from wherever it stands, and nothing else changes: no report, no count, nothing that tells a record sent again.</summary>
public sealed class ErasureTests : IAsyncLifetime
{
    private const string Name = "Nora Müller-Feld";
    private const string Login = "nora.feld";

    private static readonly byte[] Photo = [0xFF, 0xD8, 0xFF, 0xE0, .. "jpeg"u8, 1, 2, 3];

    private static readonly string[] Reports =
    [
        "/v1/records", "/v1/records/refused", "/v1/units/OVEN-1", "/v1/units/OVEN-1/history", "/v1/visits/v2", "/v1/repairs/quality", "/v1/repairs/episodes",
        "/v1/repairs/delays", "/v1/approvals?state=all", "/v1/cleaning/status", "/v1/cleaning/compliance", "/v1/today", "/v1/alerts", "/v1/plan/decisions",
        "/v1/units/OVEN-1/visit-sheet", "/v1/failures/trend", "/v1/import/mappings",
    ];

    private static readonly string[] Sent =
    [
        Visit("v1", "2026-02-20T08:00:00Z", Name, "The pump was stuck."),
        Visit("v2", "2026-02-24T08:00:00Z", "nora müller-feld, B. Other", $"{Name} looked, others did not; Nora Müller-Feldmann is somebody else."),
        Visit("v3", "2026-02-26T08:00:00Z", "B. Other", "No name here."),
        """{"type":"wash","key":"w1","unit":"OVEN-1","at":"2026-02-21T22:00:00Z","grade":"standard","outcome":"completed","attested_by":"Nora M\u00fcller-Feld"}""",
        $$"""{"type":"approval","key":"a1","unit":"OVEN-1","at":"2026-02-22T08:00:00Z","asked_at":"2026-02-22T08:00:00Z","what":"a pump","decision":"granted","decided_at":"2026-02-22T09:00:00Z","decided_by":"{{Name}}","note":"by phone"}""",
        $$"""{"type":"condition","key":"c1","unit":"OVEN-1","at":"2026-02-22T10:00:00Z","position":"wash-pump","grade":"worn","note":"says {{Name}}"}""",
        $$"""{"type":"void","key":"x1","at":"2026-02-22T14:00:00Z","voids":"v3","reason":"{{Name}} says so"}""",
    ];

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, $"[{string.Join(',', Sent)}]"), accepted: Sent.Length);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task Every_report_is_as_it_was_but_for_the_name()
    {
        await Sending.SendAsync(_host.Admin, $$"""{"type":"visit","key":"bad","unit":"NOWHERE","at":"2026-02-20T08:00:00Z","arrived_at":"2026-02-20T08:00:00Z","technician":"{{Name}}"}""");
        using HttpResponseMessage decided = await _host.Admin.PostAsJsonAsync(
            "/v1/plan/decisions", new { unit = "OVEN-1", position = "wash-pump", decision = "rejected", reason = $"{Name} replaced it", by = Name });
        Assert.True(decided.IsSuccessStatusCode, await decided.Content.ReadAsStringAsync());
        Dictionary<string, string> before = await ReadAsync();
        Assert.Contains(before.Values, report => report.Contains(Name, StringComparison.Ordinal));

        ErasureReport report = await EraseAsync(Name);

        Assert.Matches("^person [0-9a-f]{4}$", report.Pseudonym);
        Dictionary<string, string> after = await ReadAsync();
        foreach (string address in Reports)
        {
            string expected = before[address].Replace("Nora Müller-Feldmann", "Nora-Feldmann", StringComparison.Ordinal)
                .Replace(Name, report.Pseudonym, StringComparison.OrdinalIgnoreCase).Replace("Nora-Feldmann", "Nora Müller-Feldmann", StringComparison.Ordinal);
            Assert.Equal(expected, after[address]);
        }

        await CheckAsync();
    }

    [Fact]
    public async Task A_record_sent_again_is_a_duplicate_and_brings_no_name_back()
    {
        ErasureReport report = await EraseAsync(Name);

        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, $"[{string.Join(',', Sent)}]"), duplicate: Sent.Length);

        Assert.DoesNotContain(Name, await _host.Admin.GetStringAsync("/v1/visits/v1"), StringComparison.OrdinalIgnoreCase);
        Assert.Contains(report.Pseudonym, await _host.Admin.GetStringAsync("/v1/visits/v1"), StringComparison.Ordinal);
        await CheckAsync();
    }

    [Fact]
    public async Task A_source_named_for_the_person_is_renamed_its_key_revoked_and_what_it_sends_again_known()
    {
        HttpClient own = await _host.ClientAsync(Abilities.Ingest, Login);
        string record = Visit("own-1", "2026-02-27T08:00:00Z", Name, "Mine.");
        string late = """{"type":"void","key":"own-x","at":"2026-02-27T14:00:00Z","voids":"own-later","reason":"a slip"}""";
        Sending.AssertCounts(await Sending.SendAsync(own, $"[{record},{late}]"), accepted: 2);

        ErasureReport report = await EraseAsync(Name, Login);

        Assert.Equal(1, report.KeysRevoked);
        using HttpResponseMessage revoked = await Sending.PostAsync(own, Encoding.UTF8.GetBytes(record), "application/json");
        Assert.Equal(HttpStatusCode.Unauthorized, revoked.StatusCode);
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, $"[{record},{late}]", query: "?source=" + Login), duplicate: 2);
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, Visit("own-later", "2026-02-27T10:00:00Z", "X", "y"), query: "?source=" + Login), accepted: 1);
        Assert.DoesNotContain(Login, await _host.Admin.GetStringAsync("/v1/records"), StringComparison.Ordinal);
        await CheckAsync();
    }

    [Fact]
    public async Task Photos_of_the_persons_visits_are_deleted_and_those_of_others_stay()
    {
        await AddPhotoAsync("v1");
        await AddPhotoAsync("v3");

        Assert.Equal(1, (await EraseAsync(Name)).PhotosDeleted);

        Assert.Equal(0, await PhotosAsync("v1"));
        Assert.Equal(1, await PhotosAsync("v3"));
    }

    [Fact]
    public async Task Photos_that_a_visit_of_the_person_shows_from_the_one_it_corrects_are_deleted_too()
    {
        string entered = Visit("v4", "2026-02-25T08:00:00Z", "B. Other", "Entered for the wrong person.");
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, entered), accepted: 1);
        await AddPhotoAsync("v4");
        Sending.AssertCounts(
            await Sending.SendAsync(_host.Admin, Visit("v5", "2026-02-25T08:00:00Z", Name, "It was another.").Insert(1, "\"replaces\":\"v4\",")), accepted: 1);

        Assert.Equal(1, (await EraseAsync(Name)).PhotosDeleted);
        Assert.Equal(0, await PhotosAsync("v4"));
    }

    [Fact]
    public async Task Nothing_that_is_exported_and_no_byte_of_the_file_holds_the_name()
    {
        HttpClient own = await _host.ClientAsync(Abilities.Ingest | Abilities.Manage, Login);
        using HttpResponseMessage put = await own.PutAsJsonAsync("/v1/operators/NEW", new { name = "New" });
        Assert.Equal(HttpStatusCode.Created, put.StatusCode);
        await Sending.SendAsync(_host.Admin, $$"""{"type":"visit","key":"bad","unit":"NOWHERE","at":"2026-02-20T08:00:00Z","arrived_at":"2026-02-20T08:00:00Z","technician":"{{Name}}"}""");

        // Another who is called nearly the same has to stay.
        ErasureReport report = await EraseAsync(Name, Login);

        string archive = Path.Combine(_host.Folder, "all.zip");
        CommandRun export = await CommandRun.OfAsync(_host.Folder, "export", archive, "--all", "--database", _host.Database.File);
        Assert.True(export.Code == 0, export.Complaint);
        using (ZipArchive zip = await ZipFile.OpenReadAsync(archive))
        {
            foreach (ZipArchiveEntry entry in zip.Entries)
            {
                using var text = new StreamReader(await entry.OpenAsync());
                AssertNameless(await text.ReadToEndAsync(), entry.Name);
            }
        }

        using (var file = new FileStream(_host.Database.File, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete))
        using (var bytes = new StreamReader(file, Encoding.Latin1))
        {
            AssertNameless(Encoding.UTF8.GetString(Encoding.Latin1.GetBytes(await bytes.ReadToEndAsync())), "the file");
        }

        JsonElement entries = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/audit?caller=" + Uri.EscapeDataString(report.Pseudonym))).RootElement;
        Assert.Equal("operator.put", Assert.Single(entries.GetProperty("items").EnumerateArray()).GetProperty("action").GetString());
        JsonElement erased = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/audit?action=person.erase")).RootElement;
        Assert.Equal(report.Pseudonym, Assert.Single(erased.GetProperty("items").EnumerateArray()).GetProperty("about_name").GetString());
    }

    [Fact]
    public async Task The_same_name_gets_the_same_pseudonym_again()
    {
        string first = (await EraseAsync(Name)).Pseudonym;
        await Sending.SendAsync(_host.Admin, Visit("v9", "2026-02-28T08:00:00Z", Name, "Sent later."));

        Assert.Equal(first, (await EraseAsync("NORA  MÜLLER-FELD")).Pseudonym);
        await CheckAsync();
    }

    [Fact]
    public async Task A_word_that_names_nobody_and_ones_own_name_are_refused()
    {
        using HttpResponseMessage nobody = await _host.Admin.PostAsJsonAsync("/v1/people/erasures", new { names = new[] { "pump" } });
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, nobody);
        using HttpResponseMessage self = await _host.Admin.PostAsJsonAsync("/v1/people/erasures", new { names = new[] { "Admin" } });
        await ProblemAssert.IsAsync(HttpStatusCode.Conflict, self);
        using HttpResponseMessage none = await _host.Admin.PostAsJsonAsync("/v1/people/erasures", new { names = Array.Empty<string>() });
        await ProblemAssert.ListsAsync(none, "names name");
        HttpClient manager = await _host.ClientAsync(Abilities.Manage, "manager");
        using HttpResponseMessage forbidden = await manager.PostAsJsonAsync("/v1/people/erasures", new { names = new[] { Name } });
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, forbidden);

        Assert.Contains(Name, await _host.Admin.GetStringAsync("/v1/visits/v1"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_account_is_closed_and_its_login_goes_with_the_name()
    {
        People people = _host.Services.GetRequiredService<People>();
        await people.AddAsync(new NewPerson(Login, Name, Abilities.Work, Scope.Everything), CancellationToken.None);
        await people.AddAsync(new NewPerson("other.nora", Name, Abilities.Work, Scope.Everything), CancellationToken.None);
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, Visit("own", "2026-02-27T08:00:00Z", Login, "Mine."), query: "?source=" + Login), accepted: 1);
        using HttpResponseMessage unclear = await _host.Admin.PostAsJsonAsync("/v1/people/erasures", new { names = new[] { Name } });
        await ProblemAssert.IsAsync(HttpStatusCode.Conflict, unclear);

        ErasureReport report = await EraseAsync(Login);

        Assert.Null(await people.FindAsync(Login, CancellationToken.None));
        Person closed = Assert.Single(await people.ListAsync(null, null, CancellationToken.None), person => person.Name == report.Pseudonym);
        Assert.NotNull(closed.DisabledAt);
        Assert.NotNull(await people.FindAsync("other.nora", CancellationToken.None));
        Assert.DoesNotContain(Login, await _host.Admin.GetStringAsync("/v1/records"), StringComparison.Ordinal);
        Assert.DoesNotContain(Name, await _host.Admin.GetStringAsync("/v1/visits/v1"), StringComparison.Ordinal);
        await CheckAsync();
    }

    [Fact]
    public async Task The_command_does_the_same()
    {
        CommandRun run = await CommandRun.OfAsync(_host.Folder, "erase-person", Name, "--database", _host.Database.File);

        Assert.True(run.Code == 0, run.Complaint);
        Assert.Contains("visit.technician", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain(Name, await _host.Admin.GetStringAsync("/v1/visits/v1"), StringComparison.Ordinal);
        await CheckAsync();
    }

    private static string Visit(string key, string at, string technician, string note) => JsonSerializer.Serialize(new
    {
        type = "visit",
        key,
        unit = "OVEN-1",
        at,
        arrived_at = at,
        left_at = at.Replace("08:", "09:", StringComparison.Ordinal).Replace("10:", "11:", StringComparison.Ordinal),
        outcome = "repaired_not_proven",
        technician,
        note,
        findings = new[] { new { position = "wash-pump", failure_mode = "seized", note = $"told by {technician}" } },
    });

    private static void AssertNameless(string text, string where)
    {
        string rest = text.Replace("Nora Müller-Feldmann", string.Empty, StringComparison.OrdinalIgnoreCase)
            .Replace("Nora M\\u00FCller-Feldmann", string.Empty, StringComparison.OrdinalIgnoreCase);
        Assert.False(
            rest.Contains(Name, StringComparison.OrdinalIgnoreCase) || rest.Contains(Login, StringComparison.OrdinalIgnoreCase)
            || rest.Contains("Nora M\\u00fcller", StringComparison.OrdinalIgnoreCase),
            $"The name is in {where}.");
    }

    private async Task<ErasureReport> EraseAsync(params string[] names)
    {
        using HttpResponseMessage answer = await _host.Admin.PostAsJsonAsync("/v1/people/erasures", new { names });
        string body = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, body);
        return JsonSerializer.Deserialize<ErasureReport>(body, Washwear.Api.Http.Json.Options)!;
    }

    private async Task<Dictionary<string, string>> ReadAsync()
    {
        var read = new Dictionary<string, string>();
        foreach (string address in Reports)
        {
            read.Add(address, await _host.Admin.GetStringAsync(address));
        }

        return read;
    }

    private async Task CheckAsync()
    {
        CommandRun check = await CommandRun.OfAsync(_host.Folder, "check", "--database", _host.Database.File);
        Assert.True(check.Code == 0, check.Out + check.Complaint);
    }

    private async Task AddPhotoAsync(string visit)
    {
        using var body = new ByteArrayContent(Photo);
        using HttpResponseMessage answer = await _host.Admin.PostAsync($"/v1/visits/{visit}/photos", body);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }

    private async Task<int> PhotosAsync(string visit) =>
        JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/visits/" + visit)).RootElement.GetProperty("photos").GetArrayLength();
}
