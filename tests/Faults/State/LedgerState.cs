using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.State;

/// <summary>Reads a database file past the program, by the tables that db/README.md describes.</summary>
/// <param name="file">The file.</param>
internal sealed class LedgerState(string file)
{
    /// <summary>Rows that the program takes in by one transaction at most.</summary>
    public const int RowsPerTransaction = 10_000;

    private const string From = " FROM record r LEFT JOIN unit u ON u.id = r.unit_id ";
    private const string Where = " WHERE r.type = @type AND r.source = @source AND r.key >= @key";

    // The columns of each type, in the order in which a row's facts name them.
    private static readonly Dictionary<string, string> Columns = new(StringComparer.Ordinal)
    {
        ["wash"] = ", p.ended_ms, p.programme, p.grade, p.outcome, p.fault_code, p.detergent_doses, p.detergent_left, p.attested_by",
        ["fault"] = ", p.code, p.cleared_ms",
        ["fault_cleared"] = ", p.code",
        ["part_change"] = ", p.position, p.removed_reason, p.failure_mode, p.mechanism, p.last_seen_good_ms, p.removed_fitted_ms, p.fitted, "
            + "p.part_number, p.batch, p.supplier, p.age_days, p.age_washes",
        ["meter"] = ", p.read_ms, p.washes_total, p.operating_hours_total",
        ["heartbeat"] = string.Empty,
        ["visit"] = ", p.asked_ms, p.arrived_ms, p.left_ms, p.outcome, p.technician, p.note, p.findings",
        ["approval"] = ", p.what, p.amount, p.fault_code, p.asked_ms, p.decision, p.decided_ms, p.decided_by, p.note",
        ["condition"] = ", p.position, p.grade, p.note",
        ["void"] = ", p.voids, p.reason",
    };

    /// <summary>Opens the file to read.</summary>
    /// <exception cref="SqliteException">It cannot be opened.</exception>
    public SqliteConnection Open()
    {
        var connection = new SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False;Default Timeout=60");
        connection.Open();
        return connection;
    }

    /// <summary>Number of a record in the ledger; null: it is not there.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public long? SeqOf(string source, string key)
    {
        using SqliteConnection connection = Open();
        return (long?)Scalar(connection, "SELECT seq FROM record WHERE source = @source AND key = @key", ("source", source), ("key", key));
    }

    /// <summary>What the ledger says of the records of a source, from a key on: facts by key.</summary>
    /// <param name="source">Source.</param>
    /// <param name="fromKey">First key.</param>
    public Dictionary<string, string> Facts(string source, string fromKey)
    {
        using SqliteConnection connection = Open();
        var facts = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach ((string type, string columns) in Columns)
        {
            string join = columns.Length == 0 ? string.Empty : $"LEFT JOIN \"{type}\" p ON p.seq = r.seq ";
            string sql = "SELECT r.key, r.type, u.code, r.at_ms, r.replaces" + columns + From + join + Where;
            foreach (object[] row in Rows(connection, sql, ("type", type), ("source", source), ("key", fromKey)))
            {
                facts.Add((string)row[0], Row.Join(row.Skip(1)));
            }
        }

        return facts;
    }

    /// <summary>Keys of a source that no longer count, or never will.</summary>
    /// <param name="source">Source.</param>
    public HashSet<string> Voided(string source)
    {
        using SqliteConnection connection = Open();
        return [.. Rows(connection, "SELECT key FROM voided WHERE source = @source", ("source", source)).Select(row => (string)row[0])];
    }

    /// <summary>Photos of a source: visit and SHA-256 of the bytes as they lie there.</summary>
    /// <param name="source">Source.</param>
    public List<string> Photos(string source)
    {
        using SqliteConnection connection = Open();
        return [.. Rows(connection, "SELECT visit_key, body FROM visit_photo WHERE source = @source", ("source", source))
            .Select(row => PhotoName((string)row[0], (byte[])row[1]))];
    }

    /// <summary>A photo as <see cref="Photos"/> names it.</summary>
    /// <param name="visitKey">Key of its visit.</param>
    /// <param name="bytes">Its bytes.</param>
    public static string PhotoName(string visitKey, byte[] bytes) => visitKey + " " + Convert.ToHexString(SHA256.HashData(bytes));

    /// <summary>A unit of the registry as it was put.</summary>
    /// <param name="unit">Asset tag.</param>
    public string? UnitBody(string unit)
    {
        using SqliteConnection connection = Open();
        return (string?)Scalar(connection, "SELECT body FROM unit WHERE code = @unit", ("unit", unit));
    }

    /// <summary>A number that a statement gives.</summary>
    /// <param name="sql">The statement.</param>
    /// <param name="values">Its values.</param>
    public long Number(string sql, params (string Name, object Value)[] values)
    {
        using SqliteConnection connection = Open();
        return Convert.ToInt64(Scalar(connection, sql, values), CultureInfo.InvariantCulture);
    }

    /// <summary>What the engine says of its file; 'ok': it is whole.</summary>
    public string Integrity()
    {
        using SqliteConnection connection = Open();
        return string.Join("; ", Rows(connection, "PRAGMA integrity_check(5)").Select(row => row[0]));
    }

    /// <summary>Rows that a statement gives.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="sql">The statement.</param>
    /// <param name="values">Its values.</param>
    public static IEnumerable<object[]> Rows(SqliteConnection connection, string sql, params (string Name, object Value)[] values)
    {
        using SqliteCommand command = Command(connection, sql, values);
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            object[] row = new object[reader.FieldCount];
            reader.GetValues(row);
            yield return row;
        }
    }

    private static object? Scalar(SqliteConnection connection, string sql, params (string Name, object Value)[] values)
    {
        using SqliteCommand command = Command(connection, sql, values);
        return command.ExecuteScalar() is { } value and not DBNull ? value : null;
    }

    private static SqliteCommand Command(SqliteConnection connection, string sql, (string Name, object Value)[] values)
    {
        SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // Texts of this tool; values are parameters.
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach ((string name, object value) in values)
        {
            command.Parameters.AddWithValue("@" + name, value);
        }

        return command;
    }
}
