namespace Washwear.Api.Messages;

/// <summary>Loads the mapping file or says all that is wrong with it.</summary>
internal static class MappingLoader
{
    /// <summary>Loads the file.</summary>
    /// <param name="file">The file; null: none was given.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="SettingException">It cannot be used.</exception>
    public static async Task<IReadOnlyList<Subscription>> LoadAsync(string? file, CancellationToken cancellationToken)
    {
        if (file is null)
        {
            throw new SettingException("Setting mqtt_host is given without mqtt_mapping: say in a mapping file which topics are listened to.");
        }

        string path = Path.GetFullPath(file);
        byte[] json;
        try
        {
            json = await File.ReadAllBytesAsync(path, cancellationToken);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            throw new SettingException($"Setting mqtt_mapping: {path} cannot be read: {error.Message}");
        }

        IReadOnlyList<Subscription> subscriptions = MappingFile.Read(json, out IReadOnlyList<MappingProblem> problems);
        return problems.Count == 0
            ? subscriptions
            : throw new SettingException(string.Join('\n', problems.Select(problem => $"{path}, {problem}")));
    }
}
