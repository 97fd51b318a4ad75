using System.Reflection;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using Microsoft.SqlServer.TransactSql.ScriptDom;
using Washwear.Api.Storage;
using Washwear.Api.Tests.House;
using Xunit.Abstractions;

namespace Washwear.Api.Tests.Storage;

/// <summary>Every statement of the product, in the words of each engine: SQL Server's are parsed and their names looked up in the migrations,
/// as no such server is at hand; SQLite's are prepared by SQLite itself.</summary>
public sealed partial class SqlServerStatementTests(ITestOutputHelper output)
{
    [Fact]
    public void Every_statement_parses_and_names_only_what_there_is()
    {
        string[] offenders = [.. ProductStatements.All.SelectMany(one => ProblemsOf(one.Text.SqlServer).Select(problem => $"{one}: {problem}")).Distinct()];

        output.WriteLine($"{ProductStatements.All.Count} statements, {ProductStatements.All.Select(one => one.Text.SqlServer).Distinct().Count()} different ones");
        Assert.True(offenders.Length == 0, offenders.Length + " problems\n" + string.Join('\n', offenders));
        Assert.True(ProductStatements.All.Count > 150, $"only {ProductStatements.All.Count} statements were found");
    }

    [Fact]
    public void What_is_said_to_the_server_itself_parses()
    {
        string[] texts =
        [
            .. typeof(SqlServerEngine).GetFields(BindingFlags.Static | BindingFlags.NonPublic).Where(field => field.IsLiteral)
                .Select(field => (string)field.GetRawConstantValue()!).Where(text => text.Contains(' ', StringComparison.Ordinal)),
        ];

        Assert.Equal(7, texts.Length);
        Assert.All(texts, text =>
        {
            SqlServerSchema.Parse(text, out IReadOnlyList<string> problems);
            Assert.Empty(problems);
        });
    }

    [Fact]
    public void Twins_take_the_same_parameters()
    {
        string[] offenders =
        [
            .. ProductStatements.All.Where(one => !Parameters(one.Text.Sqlite).SetEquals(Parameters(one.Text.SqlServer)))
                .Select(one => $"{one}: {string.Join(", ", Parameters(one.Text.Sqlite))} and {string.Join(", ", Parameters(one.Text.SqlServer))}"),
        ];

        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    [Fact]
    public void Sqlite_understands_every_statement_and_gives_the_same_columns()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("washwear-statements-");
        using (SqliteConnection connection = SqliteSchema.Migrated(folder.FullName))
        {
            string[] offenders = [.. ProductStatements.All.SelectMany(one => Differences(connection, one)).Distinct()];

            Assert.True(offenders.Length == 0, string.Join('\n', offenders));
        }

        folder.Delete(recursive: true);
    }

    [Fact]
    public void Every_piece_of_a_statement_is_part_of_a_whole_one()
    {
        string[] offenders =
        [
            .. ProductStatements.Pieces.Where(piece => !ProductStatements.All.Any(whole =>
                whole.Text.Sqlite.Contains(piece.Text.Sqlite.Trim(), StringComparison.Ordinal))).Select(piece => piece.Place).Distinct(),
        ];

        Assert.True(offenders.Length == 0, "Put together where no test sees it: " + string.Join(", ", offenders));
    }

    [Fact]
    public void No_statement_is_put_together_inside_a_method()
    {
        string[] offenders =
        [
            .. Repository.Files("src/Api", "*.cs").Where(file => IsRoom(Repository.Short(file)))
                .SelectMany(file => PutTogether().Matches(File.ReadAllText(file)).Select(match => $"{Repository.Short(file)}: {match.Value.Trim()}")),
        ];

        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    [Theory]
    [InlineData("SELECT v.key IS NOT NULL AS x FROM voided v")]
    [InlineData("SELECT r.seq FROM record r LIMIT 5")]
    [InlineData("SELECT r.seq || 'x' FROM record r")]
    [InlineData("SELECT r.nothing FROM record r")]
    [InlineData("SELECT r.seq FROM records r")]
    [InlineData("SELECT seq FROM record r JOIN wash w ON w.seq = r.seq")]
    [InlineData("SELECT r.type FROM record r WHERE r.type = \"wash\"")]
    [InlineData("SELECT r.type, max(r.at_ms, r.received_ms) FROM record r")]
    [InlineData("SELECT r.type, r.source, count(*) FROM record r GROUP BY r.type")]
    [InlineData("SELECT r.type, count(*) FROM record r GROUP BY 1")]
    [InlineData("SELECT r.type FROM record r WHERE r.seq IN (SELECT value FROM json_each(@ids))")]
    [InlineData("SELECT x.type FROM (SELECT r.type FROM record r ORDER BY r.seq) x")]
    [InlineData("SELECT r.type FROM record r WHERE r.seq IN (SELECT w.sek FROM wash w)")]
    [InlineData("SELECT ifnull(r.unit_id, 0) FROM record r")]
    [InlineData("INSERT INTO meter (seq, read_ms) VALUES (@seq, @read_ms)")]
    [InlineData("INSERT INTO plan_terms (only, body) VALUES (1)")]
    [InlineData("UPDATE alert SET nothing = 1")]
    [InlineData("WITH old AS (SELECT a.id FROM alert a) DELETE FROM old")]
    [InlineData("MERGE alert AS a USING unit AS u ON u.id = a.unit_id WHEN MATCHED THEN DELETE;")]
    [InlineData("UPDATE a SET kind = 'x' OUTPUT inserted.id FROM alert a")]
    [InlineData("SELECT u.code FROM unit u WHERE u.code LIKE @word")]
    public void What_one_engine_alone_understands_is_found(string text) => Assert.NotEmpty(ProblemsOf(text));

    [Theory]
    [InlineData("SELECT r.type, count(*) AS n FROM record r WHERE r.unit_id IS NULL GROUP BY r.type ORDER BY n DESC")]
    [InlineData("SELECT r.seq FROM record r WHERE r.unit_id IN (SELECT CAST(value AS BIGINT) FROM OPENJSON(@ids))")]
    [InlineData("WITH w AS (SELECT r.unit_id, max(r.at_ms) AS last FROM record r GROUP BY r.unit_id) SELECT u.code, w.last FROM unit u JOIN w ON w.unit_id = u.id")]
    [InlineData("SELECT r.seq FROM record r WHERE NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq) ORDER BY r.seq OFFSET 0 ROWS FETCH NEXT @n ROWS ONLY")]
    [InlineData("UPDATE a SET kind = u.code FROM alert a JOIN unit u ON u.id = a.unit_id")]
    [InlineData("INSERT INTO operator (code, code_key, body) OUTPUT inserted.id VALUES (@code, @key, @body)")]
    public void What_runs_everywhere_is_let_through(string text) => Assert.Empty(ProblemsOf(text));

    private static List<string> ProblemsOf(string text)
    {
        TSqlScript script = SqlServerSchema.Parse(WithoutLists(text), out IReadOnlyList<string> problems);
        if (problems.Count > 0)
        {
            return [.. problems];
        }

        var names = new TsqlNames(SqlServerSchema.Current);
        foreach (TSqlStatement statement in script.Batches.SelectMany(batch => batch.Statements))
        {
            names.Check(statement);
        }

        return names.Problems;
    }

    // The tables are empty, so whatever is run changes nothing.
    private static IEnumerable<string> Differences(SqliteConnection connection, ProductStatement one)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = WithoutLists(one.Text.Sqlite);
        foreach (string name in Parameter().Matches(one.Text.Sqlite).Select(match => match.Value).Distinct())
        {
            command.Parameters.AddWithValue(name, 1);
        }

        string[] columns = [];
        string? problem = null;
        try
        {
            if (Question().IsMatch(one.Text.Sqlite))
            {
                using SqliteDataReader reader = command.ExecuteReader();
                columns = [.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetName)];
            }
            else
            {
                command.Prepare();
            }
        }
        catch (SqliteException error)
        {
            problem = error.Message;
        }

        if (problem is not null)
        {
            yield return $"{one}: {problem}";
        }
        else if (columns.Length > 0)
        {
            IReadOnlyList<string> twin = OutputOf(one.Text.SqlServer);
            if (twin.Count != columns.Length
                || twin.Where((name, index) => name.Length > 0 && !name.Equals(columns[index], StringComparison.OrdinalIgnoreCase)).Any())
            {
                yield return $"{one}: gives {string.Join(", ", columns)} and {string.Join(", ", twin)}";
            }
        }
    }

    // Dapper puts the values of a list in its place.
    private static string WithoutLists(string text) => InList().Replace(text, "IN ($1)");

    private static IReadOnlyList<string> OutputOf(string text)
    {
        TSqlScript script = SqlServerSchema.Parse(WithoutLists(text), out IReadOnlyList<string> problems);
        var names = new TsqlNames(SqlServerSchema.Current);
        if (problems.Count == 0)
        {
            names.Check(script.Batches[0].Statements[^1]);
        }

        return names.Output;
    }

    private static HashSet<string> Parameters(string text) =>
        new(Parameter().Matches(text).Select(match => match.Value), StringComparer.OrdinalIgnoreCase);

    // An archive speaks of tables by the names that it finds, so its statements are made of them.
    private static bool IsRoom(string file) => !file.StartsWith("src/Api/Storage/Archive/", StringComparison.Ordinal)
        && (file.EndsWith("Queries.cs", StringComparison.Ordinal)
            || new[] { "src/Api/Ledger/", "src/Api/Projections/", "src/Api/Storage/" }.Any(room => file.StartsWith(room, StringComparison.Ordinal)));

    [GeneratedRegex(@"(?<!@)@\w+")]
    private static partial Regex Parameter();

    [GeneratedRegex(@"\bIN (@\w+)")]
    private static partial Regex InList();

    [GeneratedRegex(@"^\s*(SELECT|WITH)\s")]
    private static partial Regex Question();

    [GeneratedRegex(@"(?m)\b(new CommandDefinition|\.Command|new Statement|\w*(Query|Execute)\w*(<[^(]*>)?)\(\s*(\w+, )?(\$""|""[^""]*"" \+|\w+ \+|string\.(Concat|Format|Join)\()|^\s+(string|Sql|var) \w+ =[^;\n]*\b(SELECT|WHERE|ORDER BY|FROM)\b[^;]*;")]
    private static partial Regex PutTogether();
}
