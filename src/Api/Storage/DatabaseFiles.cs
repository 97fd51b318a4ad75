using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>Puts the file of the embedded engine away, with what lies beside it.</summary>
internal static class DatabaseFiles
{
    // Leaving the write-ahead log needs the file to oneself, and takes the log into the file.
    private const string Alone = "PRAGMA journal_mode = DELETE";

    private static readonly string[] Beside = ["", "-wal", "-shm"];

    /// <summary>Moves a database away. A damaged one is moved as it is, with its log.</summary>
    /// <param name="file">The database.</param>
    /// <param name="to">Where to; must not exist.</param>
    /// <exception cref="IOException">Another process has it open.</exception>
    public static void MoveAway(string file, string to)
    {
        TakeAlone(file);
        foreach (string end in Beside.Where(end => File.Exists(file + end)))
        {
            File.Move(file + end, to + end);
        }
    }

    /// <summary>Has a copy that nobody uses be one file, without a log beside it.</summary>
    /// <param name="file">The copy.</param>
    /// <exception cref="IOException">Another process has it open.</exception>
    public static void Settle(string file) => TakeAlone(file);

    private static void TakeAlone(string file)
    {
        using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false, DefaultTimeout = 1 }.ConnectionString);
        try
        {
            connection.Open();
            using SqliteCommand command = connection.CreateCommand();
            command.CommandText = Alone;
            command.ExecuteScalar();
        }
        catch (SqliteException error) when (error.SqliteErrorCode is 5 or 6)
        {
            throw new IOException("The database is in use: stop the service first.", error);
        }
        catch (SqliteException)
        {
            // A damaged file is moved away as it is.
        }
    }
}
