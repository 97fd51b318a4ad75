namespace Washwear.Api.Upkeep.Backups;

/// <summary>What a backup held when it was made: the file manifest.json in its folder.</summary>
/// <param name="Format">Number of the format.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="Schema">Number of the database's schema.</param>
/// <param name="LastSequence">Number of the last record; 0: there was none.</param>
/// <param name="Ledger">Digest of every record's number, source, key and content hash, whatever their order.</param>
/// <param name="Tables">How many rows the tables of the ledger, and those that nothing can derive anew, held.</param>
/// <param name="Files">The files of the backup.</param>
internal sealed record BackupManifest(
    int Format, DateTimeOffset MadeAt, string Schema, long LastSequence, string Ledger, IReadOnlyDictionary<string, long> Tables, IReadOnlyList<BackupFile> Files)
{
    /// <summary>The format that this program writes and reads.</summary>
    public const int CurrentFormat = 1;

    /// <summary>Its name in the folder.</summary>
    public const string FileName = "manifest.json";

    /// <summary>Name of the database in the folder.</summary>
    public const string DatabaseName = "washwear.db";
}

/// <summary>One file of a backup.</summary>
/// <param name="Name">Path in the folder, with slashes.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">Of its bytes, hexadecimal.</param>
internal sealed record BackupFile(string Name, long Bytes, string Sha256);
