namespace Washwear.Faults.State;

/// <summary>Copies of a database file with what lies beside it.</summary>
internal static class DatabaseCopy
{
    /// <summary>What SQLite keeps beside the file: its log of commits, and an index of that log.</summary>
    public static readonly string[] Beside = ["-wal", "-shm"];

    /// <summary>Copies the file, then its log; the index is made anew from the log.</summary>
    /// <param name="file">The database, which nobody has open.</param>
    /// <param name="to">Where to.</param>
    public static string Of(string file, string to)
    {
        File.Copy(file, to, overwrite: true);
        if (File.Exists(file + "-wal"))
        {
            File.Copy(file + "-wal", to + "-wal", overwrite: true);
        }

        return to;
    }

    /// <summary>Deletes a copy and what lies beside it.</summary>
    /// <param name="file">The copy.</param>
    public static void Delete(string file)
    {
        foreach (string part in (string[])[file, .. Beside.Select(end => file + end)])
        {
            File.Delete(part);
        }
    }
}
