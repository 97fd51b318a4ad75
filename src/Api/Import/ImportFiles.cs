using Washwear.Api.Storage;

namespace Washwear.Api.Import;

/// <summary>Files of uploaded sheets, in the folder 'imports' beside the database; only the program's own user may read them.</summary>
/// <param name="database">The database.</param>
internal sealed class ImportFiles(Database database)
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    private string Folder => Path.Combine(Path.GetDirectoryName(database.File)!, "imports");

    /// <summary>The file of a sheet.</summary>
    /// <param name="storedName">Its name in the folder.</param>
    public string Of(string storedName) => Path.Combine(Folder, storedName);

    /// <summary>The file of its refused rows.</summary>
    /// <param name="storedName">Its name in the folder.</param>
    public string RefusedOf(string storedName) => Of(storedName) + ".refused.csv";

    /// <summary>Keeps a file.</summary>
    /// <param name="file">What was uploaded.</param>
    /// <param name="cancellationToken">Stops writing.</param>
    /// <returns>Its name in the folder.</returns>
    public async Task<string> KeepAsync(IFormFile file, CancellationToken cancellationToken)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(Folder);
        }
        else
        {
            Directory.CreateDirectory(Folder, OwnerOnly);
        }

        string name = Guid.NewGuid().ToString("N");
        try
        {
            await using FileStream stream = new(Of(name), FileMode.CreateNew, FileAccess.Write);
            await file.CopyToAsync(stream, cancellationToken);
            return name;
        }
        catch
        {
            Forget(name);
            throw;
        }
    }

    /// <summary>Deletes what is kept of a sheet.</summary>
    /// <param name="storedName">Its name in the folder.</param>
    public void Forget(string storedName)
    {
        File.Delete(Of(storedName));
        File.Delete(RefusedOf(storedName));
    }

    /// <summary>Deletes files that belong to no sheet and nobody has written to for a day, such as those of uploads that broke off.</summary>
    /// <param name="known">Names that belong to a sheet.</param>
    /// <param name="now">The machine's clock.</param>
    public void ForgetStray(IReadOnlySet<string> known, DateTime now)
    {
        if (!Directory.Exists(Folder))
        {
            return;
        }

        foreach (string path in Directory.EnumerateFiles(Folder))
        {
            if (!known.Contains(Path.GetFileName(path).Split('.')[0]) && now - File.GetLastWriteTimeUtc(path) > TimeSpan.FromDays(1))
            {
                File.Delete(path);
            }
        }
    }
}
