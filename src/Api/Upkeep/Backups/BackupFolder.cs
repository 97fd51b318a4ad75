using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using Washwear.Api.Http;

namespace Washwear.Api.Upkeep.Backups;

/// <summary>One backup: a folder with the database, its cookie keys and a manifest.</summary>
/// <param name="Path">The folder.</param>
/// <param name="MadeAt">When it was made, as its name says.</param>
internal sealed record BackupEntry(string Path, DateTimeOffset MadeAt);

/// <summary>The folder of backups: how they are named, which there are.</summary>
internal static class BackupFolder
{
    /// <summary>End of the name of one that is not whole yet.</summary>
    public const string Unfinished = ".unfinished";

    private const string Prefix = "washwear-";
    private const string Instant = "yyyyMMdd'T'HHmmss'Z'";

    /// <summary>Name of a backup.</summary>
    /// <param name="madeAt">When it was made.</param>
    public static string NameOf(DateTimeOffset madeAt) => Prefix + madeAt.UtcDateTime.ToString(Instant, CultureInfo.InvariantCulture);

    /// <summary>The backups, newest first; what else lies there is none of them.</summary>
    /// <param name="folder">The folder; need not exist.</param>
    public static IReadOnlyList<BackupEntry> All(string folder) => !Directory.Exists(folder)
        ? []
        :
        [
            .. Directory.EnumerateDirectories(folder, Prefix + "*").Select(EntryOf).OfType<BackupEntry>()
                .Where(entry => File.Exists(System.IO.Path.Combine(entry.Path, BackupManifest.FileName)))
                .OrderByDescending(entry => entry.MadeAt),
        ];

    /// <summary>The newest backup; null: there is none.</summary>
    /// <param name="folder">The folder; need not exist.</param>
    public static BackupEntry? Newest(string folder) => All(folder) is [BackupEntry newest, ..] ? newest : null;

    /// <summary>Reads what a backup held.</summary>
    /// <param name="backup">Its folder.</param>
    /// <exception cref="InvalidDataException">It has no manifest that can be read.</exception>
    public static BackupManifest ManifestOf(string backup)
    {
        try
        {
            string text = File.ReadAllText(System.IO.Path.Combine(backup, BackupManifest.FileName));
            return JsonSerializer.Deserialize<BackupManifest>(text, Json.Options) is { Format: BackupManifest.CurrentFormat, Files.Count: > 0 } manifest
                ? manifest
                : throw new InvalidDataException($"The manifest of {backup} is of a format that this version does not read.");
        }
        catch (Exception error) when (error is JsonException or FileNotFoundException or DirectoryNotFoundException)
        {
            throw new InvalidDataException($"{backup} has no manifest that can be read: it is no backup, or a damaged one.", error);
        }
    }

    /// <summary>Files of a backup that are not what was written, a line each.</summary>
    /// <param name="backup">Its folder.</param>
    /// <param name="manifest">Its manifest.</param>
    public static IEnumerable<string> Spoilt(string backup, BackupManifest manifest)
    {
        foreach (BackupFile said in manifest.Files)
        {
            var file = new FileInfo(System.IO.Path.Combine(backup, said.Name));
            if (!file.Exists)
            {
                yield return $"The file {said.Name} of the backup is gone.";
            }
            else if (file.Length != said.Bytes)
            {
                yield return string.Create(CultureInfo.InvariantCulture, $"The file {said.Name} of the backup has {file.Length} bytes; {said.Bytes} were written.");
            }
            else if (DescriptionOf(backup, file.FullName).Sha256 != said.Sha256)
            {
                yield return $"The file {said.Name} of the backup has other bytes than were written.";
            }
        }
    }

    /// <summary>Describes a file of a backup.</summary>
    /// <param name="backup">Its folder.</param>
    /// <param name="file">The file.</param>
    public static BackupFile DescriptionOf(string backup, string file)
    {
        using FileStream bytes = File.OpenRead(file);
        return new BackupFile(
            System.IO.Path.GetRelativePath(backup, file).Replace('\\', '/'), bytes.Length, Convert.ToHexStringLower(SHA256.HashData(bytes)));
    }

    private static BackupEntry? EntryOf(string path) =>
        DateTimeOffset.TryParseExact(
            System.IO.Path.GetFileName(path)[Prefix.Length..], Instant, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset madeAt)
            ? new BackupEntry(path, madeAt)
            : null;
}
