using System.Data.Common;
using System.Globalization;
using System.Text;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Storage.Archive;

namespace Washwear.Api.Projections;

/// <summary>Holds the projections against what the ledger says: adds up each unit's rows, derives all of them anew, adds up again.</summary>
internal static class ProjectionDigests
{
    // Bookmarks from which the folding goes on: they depend on when a record came, and no answer is read from them.
    private static readonly HashSet<string> Bookmarks = ["cleaning_run.changed_seq", "early_sign.earlier", "early_sign.events_between"];

    private static readonly (string Table, string Select)[] Tables =
    [
        ("wash_span", "SELECT * FROM wash_span"),
        ("fault_span", "SELECT * FROM fault_span"),
        ("part_life", "SELECT * FROM part_life"),
        ("unit_status", "SELECT * FROM unit_status"),
        ("visit_span", "SELECT * FROM visit_span"),
        ("approval_span", "SELECT * FROM approval_span"),
        ("cleaning_run", "SELECT * FROM cleaning_run"),
        ("cleaning_period", "SELECT * FROM cleaning_period"),
        ("early_sign", "SELECT * FROM early_sign"),
        ("wash_month", "SELECT * FROM wash_month"),
    ];

    /// <summary>Derives all projections anew and tells which were something else; to be called on a copy, or in a transaction that is undone.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as this transaction sees it.</param>
    /// <returns>Units, each with the tables that differ.</returns>
    public static IReadOnlyList<(int UnitId, IReadOnlyList<string> Tables)> Differences(WriteSession session, RegistrySnapshot registry)
    {
        // As each start does: what was derived with other terms, or before there was such a projection, is no damage.
        Projector.DeriveCleaning(session, registry);
        EarlySignTable.DeriveMissing(session);
        Dictionary<(int Unit, string Table), string> before = Digests(session);
        Projector.Rebuild(session, registry);
        Dictionary<(int Unit, string Table), string> after = Digests(session);
        return
        [
            .. before.Keys.Union(after.Keys).Where(key => before.GetValueOrDefault(key) != after.GetValueOrDefault(key))
                .GroupBy(key => key.Unit, key => key.Table)
                .OrderBy(unit => unit.Key)
                .Select(unit => (unit.Key, (IReadOnlyList<string>)[.. unit.Order(StringComparer.Ordinal)])),
        ];
    }

    /// <summary>Derives all projections anew and adds all of them up.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as this transaction sees it.</param>
    /// <returns>A digest, hexadecimal.</returns>
    public static string OfAll(WriteSession session, RegistrySnapshot registry)
    {
        Projector.Rebuild(session, registry);
        var all = new TableDigest();
        foreach (((int unit, string table), string digest) in Digests(session))
        {
            all.Add(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{unit} {table} {digest}")));
        }

        return all.ToString();
    }

    private static Dictionary<(int Unit, string Table), string> Digests(WriteSession session)
    {
        var digests = new Dictionary<(int Unit, string Table), TableDigest>();
        foreach ((string table, string sql) in Tables)
        {
            using var select = new Statement(session, sql);
            using DbDataReader row = select.Query();
            while (row.Read())
            {
                (int Unit, string Table) key = (UnitOf(row, table), table);
                if (!digests.TryGetValue(key, out TableDigest? digest))
                {
                    digests[key] = digest = new TableDigest();
                }

                digest.Add(Encoding.UTF8.GetBytes(Line(row, table)));
            }
        }

        return digests.ToDictionary(pair => pair.Key, pair => pair.Value.ToString());
    }

    // A row of cleaning_period is numbered by period and unit: see 0007.
    private static int UnitOf(DbDataReader row, string table) => table == "cleaning_period"
        ? unchecked((int)(row.GetInt64(row.GetOrdinal("id")) & uint.MaxValue))
        : row.GetInt32(row.GetOrdinal("unit_id"));

    private static string Line(DbDataReader row, string table)
    {
        var line = new StringBuilder();
        for (int column = 0; column < row.FieldCount; column++)
        {
            if (!Bookmarks.Contains(table + "." + row.GetName(column)))
            {
                line.Append(CultureInfo.InvariantCulture, $"{(row[column] is byte[] bytes ? Convert.ToHexString(bytes) : row[column])}\u001f");
            }
        }

        return line.ToString();
    }
}
