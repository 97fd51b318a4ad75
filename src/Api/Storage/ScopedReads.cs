using System.Data.Common;

namespace Washwear.Api.Storage;

/// <summary>Connections that see one scope; pooled apart from all others. Safe for concurrent use.</summary>
internal abstract class ScopedReads
{
    /// <summary>Opens a connection for reading.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <exception cref="DbException">The database cannot be opened, or cannot keep scopes apart.</exception>
    public abstract Task<DbConnection> OpenAsync(CancellationToken cancellationToken);

    /// <summary>Lets go of pooled connections.</summary>
    public abstract void LetGo();
}
