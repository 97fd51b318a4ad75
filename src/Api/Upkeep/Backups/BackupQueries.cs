using System.Data.Common;
using System.Globalization;
using System.Text;
using Dapper;
using Washwear.Api.Storage;
using Washwear.Api.Storage.Archive;

namespace Washwear.Api.Upkeep.Backups;

/// <summary>What a database holds, in counts and sums by which a copy of it is known again.</summary>
/// <param name="LastSequence">Number of the last record.</param>
/// <param name="Ledger">Digest over all records.</param>
/// <param name="Tables">Rows by table.</param>
internal sealed record HeldRows(long LastSequence, string Ledger, IReadOnlyDictionary<string, long> Tables)
{
    /// <summary>How another differs in what was counted of this one, a line each.</summary>
    /// <param name="other">The other.</param>
    public IEnumerable<string> Differences(HeldRows other)
    {
        if (other.LastSequence != LastSequence)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The last record has number {other.LastSequence}; it had {LastSequence} when the backup was made.");
        }

        foreach ((string table, long rows) in Tables.Where(pair => other.Tables.GetValueOrDefault(pair.Key, -1) != pair.Value))
        {
            yield return string.Create(
                CultureInfo.InvariantCulture, $"Table {table} has {other.Tables.GetValueOrDefault(table)} rows; it had {rows} when the backup was made.");
        }

        if (other.Ledger != Ledger)
        {
            yield return "The records are not those that were there when the backup was made: their digests differ.";
        }
    }
}

/// <summary>Counts what a copy holds.</summary>
internal static class BackupQueries
{
    private const string Records = "SELECT r.seq, r.source, r.\"key\", r.content_hash FROM record r ORDER BY r.seq";

    private static readonly (string Table, string Sql)[] Counts =
    [
        .. new[]
            {
                "operator", "site", "model", "unit", "rule", "record", "wash", "fault", "fault_cleared", "part_change", "meter", "void", "voided", "visit", "approval",
                "condition", "refused", "visit_photo", "plan_decision", "api_key", "webhook",
            }
            .Select(table => (table, $"SELECT count(*) FROM \"{table}\"")),
    ];

    /// <summary>Counts.</summary>
    /// <param name="database">The copy.</param>
    /// <param name="tables">Only these tables, as those of an older copy; null: all that this program counts.</param>
    /// <param name="cancellationToken">Stops counting.</param>
    public static async Task<HeldRows> CountAsync(Database database, IEnumerable<string>? tables, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var counts = new SortedDictionary<string, long>(StringComparer.Ordinal);
        foreach ((string table, string sql) in Counts.Where(count => tables?.Contains(count.Table) ?? true))
        {
            counts[table] = await connection.ExecuteScalarAsync<long>(new CommandDefinition(sql, cancellationToken: cancellationToken));
        }

        long last = 0;
        var digest = new TableDigest();
        await using DbDataReader row = await connection.ExecuteReaderAsync(new CommandDefinition(Records, commandTimeout: 0, cancellationToken: cancellationToken));
        while (await row.ReadAsync(cancellationToken))
        {
            last = row.GetInt64(0);
            digest.Add(Encoding.UTF8.GetBytes(string.Create(
                CultureInfo.InvariantCulture, $"{last}\u001f{row.GetString(1)}\u001f{row.GetString(2)}\u001f{Convert.ToHexString(row.GetFieldValue<byte[]>(3))}")));
        }

        return new HeldRows(last, digest.ToString(), counts);
    }
}
