using Washwear.Api.Storage;

namespace Washwear.Api.Operation;

/// <summary>How much room the database takes on its disk, and how much is left.</summary>
internal static class DatabaseSpace
{
    /// <summary>Looks at the disk of the embedded engine.</summary>
    /// <param name="database">The database.</param>
    /// <returns>Free bytes, bytes of the file and of its log of commits; each null where it is not known.</returns>
    public static (long? Free, long? File, long? Log) Of(Database database)
    {
        if (database.Engine.IsShared)
        {
            return (null, null, null);
        }

        long? free;
        try
        {
            free = new DriveInfo(Path.GetDirectoryName(database.File)!).AvailableFreeSpace;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ArgumentException)
        {
            free = null;
        }

        return (free, Length(database.File), Length(database.File + "-wal"));
    }

    private static long? Length(string path)
    {
        var file = new FileInfo(path);
        return file.Exists ? file.Length : null;
    }
}
