using Microsoft.Data.Sqlite;
using Washwear.Faults.State;
using Washwear.Load.Measured;

namespace Washwear.Load.Traffic;

/// <summary>Holds the database file, once the program has stopped, against what its senders were told.</summary>
internal static class Ledgered
{
    private const string OfRun = """
        SELECT r.key, r.type, u.code, r.at_ms FROM record r JOIN unit u ON u.id = r.unit_id
        WHERE r.source = @source AND r.key >= @from AND r.key < @to
        """;

    /// <summary>Looks and tells.</summary>
    /// <param name="file">The database file.</param>
    /// <param name="sent">What was sent.</param>
    /// <param name="decided">Numbers of approvals whose decision was acknowledged.</param>
    /// <param name="report">Where it is told.</param>
    public static void Check(string file, SentRecords sent, IReadOnlyCollection<long> decided, LoadReport report)
    {
        IReadOnlyList<SentRecords.Sent> all = sent.All();
        byte[] there = new byte[all.Count];
        long wrong = 0;
        long strange = 0;
        using SqliteConnection connection = new LedgerState(file).Open();
        foreach (string source in all.Select(one => one.Source).Distinct())
        {
            foreach (object[] row in LedgerState.Rows(connection, OfRun, ("source", source), ("from", sent.Run + "-"), ("to", sent.Run + ".")))
            {
                if (sent.NumberOf((string)row[0]) is not { } number || number >= all.Count)
                {
                    strange++;
                    continue;
                }

                there[number]++;
                SentRecords.Sent one = all[number];
                wrong += one.Source == source && one.Type == (string)row[1] && one.Unit == (string)row[2] && one.AtMs == (long)row[3] ? 0 : 1;
            }
        }

        Tell(report, all, there, wrong, strange);
        long undecided = decided.Count(id => Decisions(connection, id) != 1);
        report.Line($"decisions acknowledged: {decided.Count}");
        report.Against(new Limit("acknowledged decisions that are not there just once", undecided, 0));
    }

    private static void Tell(LoadReport report, IReadOnlyList<SentRecords.Sent> all, byte[] there, long wrong, long strange)
    {
        long Of(Fate fate, Func<byte, bool> holds) => all.Where((one, number) => one.Fate == fate && holds(there[number])).LongCount();
        long acknowledged = Of(Fate.Acknowledged, _ => true);
        long shed = Of(Fate.Shed, _ => true);
        long unknownThere = Of(Fate.Unknown, count => count > 0);
        long unknownGone = Of(Fate.Unknown, count => count == 0);
        report.Put("records", new { sent = all.Count, acknowledged, shed, unknown_there = unknownThere, unknown_not_there = unknownGone });
        report.Line($"records sent: {all.Count}; acknowledged {acknowledged}, told to come again {shed}, without an answer {unknownThere + unknownGone} (of which there: {unknownThere})");
        report.Against(new Limit("acknowledged records that are not there just once", Of(Fate.Acknowledged, count => count != 1), 0));
        report.Against(new Limit("records that were told to come again and are there", Of(Fate.Shed, count => count != 0), 0));
        report.Against(new Limit("records that are there twice, say something else or were never sent", Of(Fate.Unknown, count => count > 1) + wrong + strange, 0));
    }

    private static long Decisions(SqliteConnection connection, long id) => (long)LedgerState.Rows(
        connection,
        "SELECT count(*) FROM record r JOIN record a ON a.source = r.source AND a.key = r.replaces JOIN approval p ON p.seq = r.seq WHERE a.seq = @id AND p.decision IS NOT NULL",
        ("id", id)).Single()[0];
}
