using System.Data.Common;
using System.Globalization;
using Washwear.Api.Storage;

namespace Washwear.Benchmarks.Ingest;

/// <summary>What the embedded database takes at most from one thread of this program: washes as values that need no reading and no checking,
/// by prepared statements into the three tables that a wash goes to, with their indexes and references, through the connection that the
/// program itself writes with, one durable transaction a batch.</summary>
internal static class BareLoop
{
    private const string Record =
        "INSERT INTO record (seq, source, key, type, unit_id, at_ms, received_ms, content_hash) VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6, $p7)";

    private const string Wash = "INSERT INTO wash (seq, ended_ms, grade, outcome, detergent_left) VALUES ($p0, $p1, $p2, $p3, $p4)";

    private const string Span = """
        INSERT INTO wash_span (unit_id, started_ms, seq, ended_ms, grade, outcome, detergent_left, attested)
        VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6, 0)
        """;

    /// <summary>Inserts a batch.</summary>
    /// <param name="database">The database.</param>
    /// <param name="batch">Its number, from 0.</param>
    /// <param name="rows">How many washes.</param>
    /// <param name="units">How many units they go round.</param>
    /// <param name="begin">Start of the first wash; each is a minute later than the one before.</param>
    public static Task InsertAsync(Database database, int batch, int rows, int units, DateTimeOffset begin) => database.WriteAsync(
        session =>
        {
            using DbCommand record = Prepared(session, Record, 8);
            using DbCommand wash = Prepared(session, Wash, 5);
            using DbCommand span = Prepared(session, Span, 7);
            byte[] hash = new byte[32];
            for (int row = 0; row < rows; row++)
            {
                long seq = (batch * rows) + row + 1;
                long at = begin.AddMinutes(seq).ToUnixTimeMilliseconds();
                long unit = (row % units) + 1;
                Run(record, seq, "bare", string.Create(CultureInfo.InvariantCulture, $"b{batch}-{row}"), "wash", unit, at, at, hash);
                Run(wash, seq, at + 4_500_000, "standard", "completed", 0L);
                Run(span, unit, at, seq, at + 4_500_000, "standard", "completed", 0L);
            }

            return Task.CompletedTask;
        },
        CancellationToken.None);

    private static DbCommand Prepared(WriteSession session, string sql, int parameters)
    {
        DbCommand command = session.Connection.CreateCommand();
        command.Transaction = session.Transaction;
        command.CommandText = sql;
        for (int i = 0; i < parameters; i++)
        {
            DbParameter parameter = command.CreateParameter();
            parameter.ParameterName = "$p" + i.ToString(CultureInfo.InvariantCulture);
            command.Parameters.Add(parameter);
        }

        return command;
    }

    private static void Run(DbCommand command, params ReadOnlySpan<object> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            command.Parameters[i].Value = values[i];
        }

        command.ExecuteNonQuery();
    }
}
