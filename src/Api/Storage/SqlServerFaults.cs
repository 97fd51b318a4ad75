namespace Washwear.Api.Storage;

/// <summary>What the numbers of SQL Server's errors mean for whoever wrote, as the server's documentation lists them.</summary>
internal static class SqlServerFaults
{
    private const int LockTimeout = 1222;
    private const int CommandTimeout = -2;

    // The transaction was undone for a reason of the moment: deadlock, a snapshot overtaken.
    private static readonly HashSet<int> Undone = [1205, 3960, 3935];

    // The connection went, or the server is about to come back.
    private static readonly HashSet<int> Lost =
        [20, 64, 121, 233, 921, 4060, 4221, 10053, 10054, 10060, 10061, 11001, 40197, 40501, 40613, 42108, 42109, 49918, 49919, 49920];

    private static readonly HashSet<int> Full = [1101, 1105, 9002, 40544];

    /// <summary>Whether the work may be run again: the transaction was undone or the connection lost. Not after a wait for a lock or an
    /// answer, which was as long as the settings allow already.</summary>
    /// <param name="numbers">Numbers of the errors that came together.</param>
    public static bool MayTryAgain(IEnumerable<int> numbers) => numbers.Any(number => Undone.Contains(number) || Lost.Contains(number));

    /// <summary>HTTP status for a request that met it: 503 and 507 can be sent again; null: a failure of this program.</summary>
    /// <param name="numbers">Numbers of the errors that came together.</param>
    public static int? StatusOf(IReadOnlyCollection<int> numbers) =>
        numbers.Any(Full.Contains) ? 507
        : MayTryAgain(numbers) || numbers.Contains(LockTimeout) || numbers.Contains(CommandTimeout) ? 503
        : null;
}
