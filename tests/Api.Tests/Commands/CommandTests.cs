using System.Globalization;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Commands;

public sealed class CommandTests : IDisposable
{
    private const string Database = "washwear.db";
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-command-test-").FullName;

    [Theory]
    [InlineData("polish")]
    [InlineData("serve", "--polish")]
    [InlineData("serve", "now")]
    [InlineData("keys")]
    [InlineData("backup")]
    [InlineData("serve", "--page-rows", "0")]
    [InlineData("serve", "--engine", "stone")]
    public async Task A_command_asked_for_wrongly_says_so_with_code_2_and_makes_nothing(params string[] arguments)
    {
        CommandRun run = await RunAsync(arguments);

        Assert.Equal(2, run.Code);
        Assert.NotEmpty(run.Complaint);
        Assert.DoesNotContain("   at ", run.Complaint, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(_folder));
    }

    [Theory]
    [InlineData("check")]
    [InlineData("rebuild")]
    [InlineData("export", "out.json")]
    [InlineData("backup", "copy.db")]
    [InlineData("keys", "list")]
    [InlineData("keys", "revoke", "somebody")]
    public async Task A_command_over_a_database_that_does_not_exist_makes_none(params string[] arguments)
    {
        CommandRun run = await RunAsync(arguments);

        Assert.Equal(1, run.Code);
        Assert.Contains("There is no database", run.Complaint, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(_folder));
    }

    [Fact]
    public async Task Keys_are_made_listed_and_revoked_and_none_is_made_behind_the_users_back()
    {
        CommandRun add = await RunAsync("keys", "add", "gateway-1", "--can", "read,ingest", "--database", Database);
        Assert.Equal((0, ""), (add.Code, add.Complaint));
        CommandRun list = await RunAsync("keys", "list", "--database", Database);
        Assert.Single(list.Out.Trim().Split('\n'));
        Assert.Contains("gateway-1  read,ingest", list.Out, StringComparison.Ordinal);
        Assert.DoesNotContain(add.Out.Trim(), list.Out, StringComparison.Ordinal);
        Assert.Equal(Abilities.Read | Abilities.Ingest, (await FindAsync(add.Out.Trim()))?.Abilities);

        CommandRun again = await RunAsync("keys", "add", "gateway-1", "--database", Database);
        Assert.Equal(1, again.Code);
        CommandRun wrong = await RunAsync("keys", "add", "other", "--can", "fly", "--database", Database);
        Assert.Equal(1, wrong.Code);

        Assert.Equal(0, (await RunAsync("keys", "revoke", "gateway-1", "--database", Database)).Code);
        Assert.Null(await FindAsync(add.Out.Trim()));
        Assert.Equal(1, (await RunAsync("keys", "revoke", "gateway-1", "--database", Database)).Code);
    }

    [Fact]
    public async Task A_scope_of_what_is_not_registered_is_refused_with_the_nearest_that_is()
    {
        foreach (string[] command in new[] { new[] { "keys", "add", "gateway" }, ["people", "add", "ana"] })
        {
            CommandRun early = await RunAsync([.. command, "--operator", "harbuor", "--database", Database]);
            Assert.Equal(0, early.Code);
            Assert.Contains("no operators are registered yet. Until harbuor is registered, nothing is seen", early.Complaint, StringComparison.Ordinal);
        }

        await File.WriteAllTextAsync(At("registry.json"), await SampleRegistryAsync());
        Assert.Equal(0, (await RunAsync("import", "registry.json", "--database", Database)).Code);

        foreach (string[] command in new[] { new[] { "keys", "add", "second" }, ["people", "add", "bo"] })
        {
            CommandRun wrong = await RunAsync([.. command, "--operator", "harbuor", "--operator", "harbour", "--database", Database]);
            Assert.Equal(1, wrong.Code);
            Assert.Contains("There is none of the operators with the code 'harbuor'. Did you mean 'harbour'? If not, register it first.", wrong.Complaint, StringComparison.Ordinal);
            CommandRun far = await RunAsync([.. command, "--site", "nowhere-at-all", "--database", Database]);
            Assert.Equal(1, far.Code);
            Assert.Contains("Register it first, or mend the code.", far.Complaint, StringComparison.Ordinal);
            CommandRun right = await RunAsync([.. command, "--operator", "HARBOUR", "--database", Database]);
            Assert.Equal((0, ""), (right.Code, right.Complaint));
        }
    }

    [Fact]
    public async Task People_are_added_listed_let_back_in_and_disabled_and_each_link_is_another()
    {
        CommandRun add = await RunAsync("people", "add", "ana@example.test", "--name", "Ana", "--can", "read,work", "--database", Database);
        Assert.Equal((0, ""), (add.Code, add.Complaint));
        Assert.Contains("/join?token=", add.Out, StringComparison.Ordinal);
        CommandRun list = await RunAsync("people", "list", "--database", Database);
        Assert.Equal("ana@example.test  Ana  read,work  everything  no password yet", list.Out.Trim());

        CommandRun again = await RunAsync("people", "add", "ANA@example.test", "--database", Database);
        Assert.Equal(1, again.Code);
        Assert.Contains("Choose another login.", again.Complaint, StringComparison.Ordinal);
        Assert.Equal(1, (await RunAsync("people", "add", "bo", "--can", "fly", "--database", Database)).Code);

        CommandRun reset = await RunAsync("people", "reset", "ana@example.test", "--database", Database);
        Assert.Equal(0, reset.Code);
        Assert.NotEqual(add.Out.Trim().Split('\n')[^1], reset.Out.Trim().Split('\n')[^1]);

        Assert.Equal(0, (await RunAsync("people", "disable", "ana@example.test", "--database", Database)).Code);
        Assert.Contains("  disabled ", (await RunAsync("people", "list", "--database", Database)).Out, StringComparison.Ordinal);
        Assert.Equal(1, (await RunAsync("people", "reset", "ana@example.test", "--database", Database)).Code);
        foreach (string command in new[] { "reset", "disable", "release" })
        {
            CommandRun nobody = await RunAsync("people", command, "nobody", "--database", Database);
            Assert.Equal(1, nobody.Code);
            Assert.Contains("Nobody has the login 'nobody'", nobody.Complaint, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task What_is_exported_and_backed_up_comes_back_elsewhere_and_refused_rows_are_told()
    {
        await File.WriteAllTextAsync(At("registry.json"), await SampleRegistryAsync());
        CommandRun registry = await RunAsync("import", "registry.json", "--database", Database);
        Assert.Equal("Registry: 5 created, 0 changed, 0 as they were.\n", registry.Out);

        await File.WriteAllTextAsync(At("washes.csv"), """
            key,unit,at,grade,outcome
            w-1,OVEN-1,2026-02-01T22:00:00+01:00,standard,completed
            w-2,OVEN-2,2026-02-02T22:00:00+01:00,standard,completed
            """);
        CommandRun records = await RunAsync("import", "washes.csv", "--type", "wash", "--database", Database);
        Assert.Equal(1, records.Code);
        Assert.StartsWith("Records: 1 accepted", records.Out, StringComparison.Ordinal);
        Assert.StartsWith("row 2, key w-2, unit:", records.Complaint, StringComparison.Ordinal);
        CommandRun untyped = await RunAsync("import", "washes.csv", "--database", Database);
        Assert.Equal(1, untyped.Code);
        Assert.NotEmpty(untyped.Complaint);

        Assert.Equal(0, (await RunAsync("rebuild", "--database", Database)).Code);
        Assert.Equal(0, (await RunAsync("backup", "copy.db", "--database", Database)).Code);
        Assert.Equal(1, (await RunAsync("backup", "copy.db", "--database", Database)).Code);
        Assert.Equal("The database is whole.\n", (await RunAsync("check", "--database", "copy.db")).Out);
        Assert.Equal(0, (await RunAsync("export", "out.json", "--database", "copy.db")).Code);
        CommandRun back = await RunAsync("import", "out.json", "--database", "copy.db");
        Assert.Equal("Registry: 0 created, 0 changed, 5 as they were.\n", back.Out);
    }

    [Fact]
    public async Task An_import_that_breaks_rules_names_them_and_stores_nothing()
    {
        await File.WriteAllTextAsync(At("wrong.json"), """{"operators":[],"sites":[{"site":"s","operator":"o","name":"S","time_zone":"Mars/Base"}],"models":[],"units":[],"rules":[]}""");
        CommandRun run = await RunAsync("import", "wrong.json", "--database", Database);

        Assert.Equal(1, run.Code);
        Assert.Contains("sites[0].operator:", run.Complaint, StringComparison.Ordinal);
        Assert.Contains("sites[0].time_zone:", run.Complaint, StringComparison.Ordinal);
        Assert.Equal(1, (await RunAsync("import", "nothing.json", "--database", Database)).Code);
    }

    [Fact]
    public async Task Check_says_in_words_what_is_wrong_with_a_damaged_file_and_with_none_of_ours()
    {
        await File.WriteAllTextAsync(At("text.db"), "no database at all, but a letter to somebody else");
        CommandRun text = await RunAsync("check", "--database", "text.db");
        Assert.Equal(1, text.Code);
        Assert.Contains("not a database", text.Complaint, StringComparison.Ordinal);

        await RunAsync("migrate", "--database", Database);
        await using (var connection = new SqliteConnection($"Data Source={At(Database)};Foreign Keys=False;Pooling=False"))
        {
            await connection.OpenAsync();
            await using SqliteCommand command = connection.CreateCommand();
            command.CommandText = "INSERT INTO sign_in_link (hash, key_id, expires_ms) VALUES (x'00', 4711, 0)";
            await command.ExecuteNonQueryAsync();
        }

        CommandRun orphan = await RunAsync("check", "--database", Database);
        Assert.Equal(1, orphan.Code);
        Assert.Contains("sign_in_link row 1 refers to a missing row of api_key", orphan.Complaint, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Openapi_writes_the_contract_and_nothing_else()
    {
        CommandRun run = await RunAsync("openapi", "openapi.yaml");

        Assert.Equal(new CommandRun(0, "", ""), run);
        Assert.StartsWith("openapi: '3.1", await File.ReadAllTextAsync(At("openapi.yaml")), StringComparison.Ordinal);
        Assert.Equal([At("openapi.yaml")], Directory.EnumerateFileSystemEntries(_folder));
    }

    [Fact]
    public async Task Invented_data_go_by_a_clock_that_starts_where_it_is_asked_to_and_no_other_data_do()
    {
        (string, string)[] asked = [("database", At(Database)), ("invented_now", "2024-02-29T12:00:00Z")];
        Settings settings = Settings.Load(new Dictionary<string, string>());
        await using (var app = Program.Build(settings.With([.. asked, ("invented_data", "yes")])))
        {
            DateTimeOffset start = DateTimeOffset.Parse("2024-02-29T12:00:00Z", CultureInfo.InvariantCulture);
            Assert.InRange(app.Services.GetRequiredService<TimeProvider>().GetUtcNow(), start, start.AddMinutes(5));
        }

        SettingException refused = Assert.Throws<SettingException>(() => Program.Build(settings.With(asked)));
        Assert.Contains("for invented data only", refused.Message, StringComparison.Ordinal);
        Assert.Throws<SettingException>(() => settings.With(("invented_now", "yesterday")));
        Assert.Throws<SettingException>(() => settings.With(("invented_now", "1999-12-31T23:59:59Z")));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string At(string name) => Path.Combine(_folder, name);

    private Task<CommandRun> RunAsync(params string[] arguments) => CommandRun.OfAsync(_folder, arguments);

    private async Task<ApiKey?> FindAsync(string secret)
    {
        await using var app = Program.Build(Settings.Load(new Dictionary<string, string> { ["database"] = At(Database) }));
        return await app.Services.GetRequiredService<Keys>().FindAsync(secret, CancellationToken.None);
    }

    private static async Task<string> SampleRegistryAsync()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        return await host.Admin.GetStringAsync("/v1/registry");
    }
}
