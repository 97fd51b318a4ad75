using System.Globalization;
using Microsoft.Data.Sqlite;
using Washwear.Api.Tests.House;

namespace Washwear.Api.Tests.Storage;

/// <summary>Both engines are given the same tables, by scripts of the same names.</summary>
public sealed class MigrationTwinTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("washwear-schema-");

    [Fact]
    public void Both_folders_hold_the_same_scripts() => Assert.Equal(Scripts("sqlite"), Scripts("sqlserver"));

    [Fact]
    public void The_scripts_of_sql_server_parse_and_use_only_what_runs_everywhere() =>
        Assert.True(SqlServerSchema.Current.Problems.Count == 0, string.Join('\n', SqlServerSchema.Current.Problems));

    [Fact]
    public void Tables_columns_nullability_keys_and_types_are_the_same()
    {
        using SqliteConnection connection = Migrated();
        string[] sqlite = [.. Names(connection, "table").SelectMany(table => Columns(connection, table))];
        string[] sqlServer =
        [
            .. SqlServerSchema.Current.Tables.SelectMany(table => table.Value.Select(column =>
                Line(table.Key, column.Name, column.Family, column.Nullable, column.KeyPlace))),
        ];

        Assert.Equal(sqlite.Order(StringComparer.Ordinal), sqlServer.Order(StringComparer.Ordinal));
        Assert.True(sqlite.Length > 150, $"only {sqlite.Length} columns");
    }

    [Fact]
    public void Indexes_have_the_same_names()
    {
        using SqliteConnection connection = Migrated();

        Assert.Equal(
            Names(connection, "index").Order(StringComparer.Ordinal), SqlServerSchema.Current.Indexes.Order(StringComparer.Ordinal));
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private static string[] Scripts(string engine) =>
        [.. Directory.GetFiles(Path.Combine(Repository.Root, "db", engine)).Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)];

    private static string Line(string table, string column, string family, bool nullable, int keyPlace) => string.Create(
        CultureInfo.InvariantCulture, $"{table}.{column} {family}{(nullable ? "" : " not null")}{(keyPlace > 0 ? $" key {keyPlace}" : "")}");

    // Of the indexes only those that the scripts name.
    private static List<string> Names(SqliteConnection connection, string type) => Rows(
        connection,
        $"SELECT name FROM sqlite_schema WHERE type = '{type}' AND name NOT LIKE 'sqlite%' AND name <> 'SchemaVersions' AND sql IS NOT NULL",
        row => row.GetString(0));

    private static List<string> Columns(SqliteConnection connection, string table) => Rows(
        connection,
        $"SELECT name, type, \"notnull\", pk FROM pragma_table_info('{table}')",
        row => Line(table, row.GetString(0), Family(row.GetString(1)), !row.GetBoolean(2) && row.GetInt32(3) == 0, row.GetInt32(3)));

    private static string Family(string type) => type.ToLowerInvariant();

    private static List<T> Rows<T>(SqliteConnection connection, string sql, Func<SqliteDataReader, T> read)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader row = command.ExecuteReader();
        var rows = new List<T>();
        while (row.Read())
        {
            rows.Add(read(row));
        }

        return rows;
    }

    private SqliteConnection Migrated() => SqliteSchema.Migrated(_folder.FullName);
}
