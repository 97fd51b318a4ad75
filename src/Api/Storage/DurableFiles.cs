using Microsoft.Win32.SafeHandles;

namespace Washwear.Api.Storage;

/// <summary>Files that are still there, with their content, when the power fails the moment after.</summary>
internal static class DurableFiles
{
    private static readonly string[] Beside = ["", "-wal", "-shm", "-journal"];

    /// <summary>Has a file's content written to the disk.</summary>
    /// <param name="file">The file.</param>
    public static void Flush(string file)
    {
        using SafeFileHandle handle = File.OpenHandle(file, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite);
        RandomAccess.FlushToDisk(handle);
    }

    /// <summary>Deletes a database file with what lies beside it.</summary>
    /// <param name="file">The file.</param>
    public static void Delete(string file)
    {
        foreach (string end in Beside)
        {
            File.Delete(file + end);
        }
    }

    /// <summary>Size of a database file with its log, bytes.</summary>
    /// <param name="file">The file.</param>
    public static long SizeOf(string file) =>
        Beside.Select(end => new FileInfo(file + end)).Where(part => part.Exists).Sum(part => part.Length);
}
