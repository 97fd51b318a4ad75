using Microsoft.Data.Sqlite;

namespace Washwear.Faults.State;

/// <summary>Every value of every table, so that what a fault changed can be named.</summary>
internal sealed class WholeDump
{
    private readonly Dictionary<string, (string[] Columns, List<object[]> Rows)> _tables = new(StringComparer.Ordinal);

    private WholeDump()
    {
    }

    /// <summary>Reads a database.</summary>
    /// <param name="file">The database.</param>
    /// <exception cref="SqliteException">It cannot be read.</exception>
    public static WholeDump Of(string file)
    {
        var dump = new WholeDump();
        using SqliteConnection connection = new LedgerState(file).Open();
        string[] tables = [.. LedgerState.Rows(connection, "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").Select(row => (string)row[0])];
        foreach (string table in tables)
        {
            string[] columns = [.. LedgerState.Rows(connection, $"SELECT name FROM pragma_table_info('{table}')").Select(row => (string)row[0])];
            dump._tables[table] = (columns, [.. LedgerState.Rows(connection, $"SELECT * FROM \"{table}\"")]);
        }

        return dump;
    }

    /// <summary>Columns that differ, as table.column; a table with other rows as the table.</summary>
    /// <param name="other">The other dump.</param>
    public SortedSet<string> Differences(WholeDump other)
    {
        var found = new SortedSet<string>(StringComparer.Ordinal);
        foreach (string table in _tables.Keys.Union(other._tables.Keys))
        {
            if (!_tables.TryGetValue(table, out var mine) || !other._tables.TryGetValue(table, out var theirs) || mine.Rows.Count != theirs.Rows.Count)
            {
                found.Add(table);
                continue;
            }

            foreach ((object[] one, object[] two) in mine.Rows.Zip(theirs.Rows))
            {
                found.UnionWith(mine.Columns.Where((_, column) => !Same(one[column], two[column])).Select(column => table + "." + column));
            }
        }

        return found;
    }

    private static bool Same(object one, object two) =>
        one is byte[] bytes ? two is byte[] others && bytes.AsSpan().SequenceEqual(others) : one.Equals(two);
}
