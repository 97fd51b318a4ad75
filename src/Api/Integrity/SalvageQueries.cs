using System.Data;
using System.Data.Common;
using Dapper;
using Washwear.Api.Ledger;

namespace Washwear.Api.Integrity;

/// <summary>Reads what can still be read of a damaged database: around what cannot, down to the single row.</summary>
/// <param name="connection">A connection.</param>
internal sealed class SalvageQueries(DbConnection connection)
{
    private const int NumbersAtOnce = 4_096;

    // Answered by the index of keys alone, which holds its own copy of source and key.
    private const string ByKey = "SELECT seq FROM record WHERE source = @Source AND \"key\" = @Key";

    private static readonly string[] LastRecord =
    [
        "SELECT max(seq) FROM record",
        .. StoredRecords.Types.Where(type => type != "heartbeat").Select(type => $"SELECT max(seq) FROM \"{type}\""),
    ];

    private static readonly Dictionary<string, (string Last, string Rows)> Registry =
        new[] { "operator", "site", "model", "unit", "rule", "supplier", "part", "stock_point" }.ToDictionary(table => table, table => (
            $"SELECT max(id) FROM \"{table}\"",
            $"SELECT body FROM \"{table}\" WHERE id BETWEEN @from AND @to ORDER BY id"));

    private readonly List<string> _unreadable = [];

    /// <summary>What could not be read.</summary>
    public IReadOnlyList<string> Unreadable => _unreadable;

    /// <summary>Records of every type, as far as they can be read.</summary>
    public IEnumerable<StoredRecord> Records()
    {
        long last = Last("records", LastRecord);
        return StoredRecords.Types.SelectMany(type => Around<StoredRecord>(
            "records of type " + type, last, (from, to) => [.. StoredRecords.Read(connection, null, type, from, to)]))
            .Select(stored => stored with { IsWhole = stored.IsWhole && IsUnderItsKey(stored) });
    }

    // Source and key are not part of a record's hash.
    private bool IsUnderItsKey(StoredRecord stored)
    {
        try
        {
            return connection.ExecuteScalar<long?>(ByKey, new { stored.Source, stored.Key }) == stored.Seq;
        }
        catch (DbException)
        {
            return false;
        }
    }

    /// <summary>Bodies of a table of the registry, as far as they can be read.</summary>
    /// <param name="table">The table.</param>
    public IEnumerable<string> Bodies(string table)
    {
        (string last, string rows) = Registry[table];
        return Around<string>("rows of " + table, Last(table, [last]), (from, to) => [.. connection.Query<string>(rows, new { from, to })]);
    }

    private IEnumerable<T> Around<T>(string what, long last, Func<long, long, List<T>> read)
    {
        for (long first = 1; first <= last; first += NumbersAtOnce)
        {
            foreach (T one in Halved(what, first, Math.Min(last, first + NumbersAtOnce - 1), read))
            {
                yield return one;
            }
        }
    }

    private List<T> Halved<T>(string what, long from, long to, Func<long, long, List<T>> read)
    {
        try
        {
            return read(from, to);
        }
        catch (Exception error) when (error is DbException or InvalidCastException or DataException)
        {
            if (from == to)
            {
                _unreadable.Add(FormattableString.Invariant($"Number {from} cannot be read among the {what}."));
                return [];
            }

            long middle = from + ((to - from) / 2);
            return [.. Halved(what, from, middle, read), .. Halved(what, middle + 1, to, read)];
        }
    }

    private long Last(string what, string[] questions)
    {
        long last = 0;
        foreach (string question in questions)
        {
            try
            {
                last = Math.Max(last, connection.ExecuteScalar<long?>(question) ?? 0);
            }
            catch (DbException)
            {
                _unreadable.Add($"The end of the {what} cannot be read in one of their tables.");
            }
        }

        return last;
    }
}
