using System.Data.Common;
using Washwear.Api.Storage;

namespace Washwear.Api.Registry;

/// <summary>Keeps the registry in memory and reads it again when its version has changed. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
public sealed class RegistryCache(Database database) : IDisposable
{
    private readonly SemaphoreSlim _loading = new(1, 1);
    private volatile RegistrySnapshot? _current;

    /// <summary>Gives the registry as of the latest commit.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task<RegistrySnapshot> CurrentAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        long version = await RegistryQueries.VersionAsync(connection, null, cancellationToken);
        return _current is { } fresh && fresh.Version == version ? fresh : await ReloadAsync(connection, version, cancellationToken);
    }

    /// <inheritdoc/>
    public void Dispose() => _loading.Dispose();

    private async Task<RegistrySnapshot> ReloadAsync(DbConnection connection, long version, CancellationToken cancellationToken)
    {
        await _loading.WaitAsync(cancellationToken);
        try
        {
            if (_current is { } loaded && loaded.Version >= version)
            {
                return loaded;
            }

            await using DbTransaction oneView = Database.BeginReading(connection);
            RegistrySnapshot snapshot = await RegistryQueries.LoadAsync(connection, oneView, cancellationToken);
            _current = snapshot;
            return snapshot;
        }
        finally
        {
            _loading.Release();
        }
    }
}
