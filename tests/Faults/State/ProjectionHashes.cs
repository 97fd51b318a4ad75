using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using Washwear.Faults.Served;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.State;

/// <summary>Hashes of the projection tables: what the ledger was folded into has to be what a rebuild derives.</summary>
internal static class ProjectionHashes
{
    // Left out: bookmarks from which the folding goes on, which depend on when a record came; no answer is read from them.
    private static readonly (string Table, string Key, string[] LeftOut)[] Tables =
    [
        ("wash_span", "unit_id, started_ms, seq", []),
        ("fault_span", "unit_id, raised_ms, seq", []),
        ("part_life", "unit_id, position, ordinal", []),
        ("unit_status", "unit_id", []),
        ("visit_span", "unit_id, from_ms, seq", []),
        ("approval_span", "unit_id, from_ms, seq", []),
        ("cleaning_run", "unit_id", ["changed_seq"]),
        ("cleaning_period", "id", []),
        ("early_sign", "unit_id", ["earlier", "events_between"]),
        ("wash_month", "month, unit_id", []),
    ];

    /// <summary>Hash by table.</summary>
    /// <param name="file">The database.</param>
    public static Dictionary<string, string> Of(string file)
    {
        using SqliteConnection connection = new LedgerState(file).Open();
        return Tables.ToDictionary(table => table.Table, table => Hash(connection, table.Table, table.Key, table.LeftOut));
    }

    /// <summary>Rebuilds a database and tells each table that is not what it was; the file is changed.</summary>
    /// <param name="options">Where the program is.</param>
    /// <param name="file">The database, a copy.</param>
    /// <param name="when">When, for the message.</param>
    /// <param name="findings">Where it is told.</param>
    public static async Task CompareWithRebuildAsync(FaultOptions options, string file, string when, Findings findings)
    {
        Dictionary<string, string> before = Of(file);
        CommandEnd rebuild = await Processes.RunAsync(options, "rebuild", "--database", file);
        findings.Expect(rebuild.Code == 0, $"{when}: rebuild failed: {rebuild.All}");
        foreach ((string table, string hash) in Of(file))
        {
            findings.Expect(hash == before[table], $"{when}: {table} is not what the ledger says; copy of the database: {file}");
        }

        findings.Count("comparisons with a rebuild");
    }

    private static string Hash(SqliteConnection connection, string table, string key, string[] leftOut)
    {
        string[] columns =
        [
            .. LedgerState.Rows(connection, $"SELECT name FROM pragma_table_info('{table}')").Select(row => (string)row[0]).Except(leftOut),
        ];
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (object[] row in LedgerState.Rows(connection, $"SELECT {string.Join(", ", columns)} FROM {table} ORDER BY {key}"))
        {
            IEnumerable<object> values = row.Select(value => value is byte[] bytes ? Convert.ToHexString(bytes) : value);
            hash.AppendData(Encoding.UTF8.GetBytes(Row.Join(values) + "\n"));
        }

        return Convert.ToHexString(hash.GetHashAndReset());
    }
}
