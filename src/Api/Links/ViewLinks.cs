using System.Data.Common;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Api.Storage;
using Washwear.Dashboard.Links;

namespace Washwear.Api.Links;

/// <summary>Makes, finds, lists and revokes links. Nobody shares, sees or revokes what goes beyond their own scope.</summary>
/// <param name="database">The database.</param>
/// <param name="registry">Tells what lies within what.</param>
/// <param name="clock">The clock.</param>
internal sealed class ViewLinks(Database database, RegistryCache registry, TimeProvider clock)
{
    private static readonly TimeSpan BetweenMarks = TimeSpan.FromHours(1);

    /// <summary>Makes a link.</summary>
    /// <param name="name">What it is for, 1 to 64 printable characters.</param>
    /// <param name="shows">What it shows.</param>
    /// <param name="scope">Of which part of the fleet.</param>
    /// <param name="by">What its maker sees.</param>
    /// <param name="madeBy">Name of its maker.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The link and what makes its address secret; null: its maker does not see all of it.</returns>
    public async Task<(ViewLink Link, string Token)?> MakeAsync(
        string name, LinkView shows, Scope scope, Scope by, string madeBy, CancellationToken cancellationToken)
    {
        if (!by.Includes(scope, await registry.CurrentAsync(cancellationToken)))
        {
            return null;
        }

        string token = Secret.Create(string.Empty);
        LinkStored made = await database.WriteAsync(
            session => LinkQueries.AddAsync(
                session, Secret.Hash(token), name, Json.Name(shows.ToString()), scope.ToString(), madeBy, clock.GetUtcNow(), cancellationToken),
            cancellationToken);
        return (Read(made), token);
    }

    /// <summary>Links whose whole scope somebody sees, newest first.</summary>
    /// <param name="by">What they see.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<ViewLink>> ListAsync(Scope by, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. (await LinkQueries.AllAsync(connection, cancellationToken)).Select(Read).Where(link => by.Includes(link.Scope, snapshot))];
    }

    /// <summary>Revokes a link; the next request that uses it finds nothing. One that was revoked stays as it is.</summary>
    /// <param name="id">Its number.</param>
    /// <param name="by">What the caller sees.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether the caller knows such a link.</returns>
    public async Task<bool> RevokeAsync(long id, Scope by, CancellationToken cancellationToken)
    {
        if (!(await ListAsync(by, cancellationToken)).Any(link => link.Id == id))
        {
            return false;
        }

        await database.WriteAsync(session => LinkQueries.RevokeAsync(session, id, clock.GetUtcNow(), cancellationToken), cancellationToken);
        return true;
    }

    /// <summary>Finds the good link of an address, and marks that it was used.</summary>
    /// <param name="token">What makes the address secret.</param>
    /// <param name="shows">What the address asks to see.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<ViewLink?> FindAsync(string token, LinkView shows, CancellationToken cancellationToken)
    {
        LinkStored? stored;
        await using (DbConnection connection = await database.OpenReadAsync(cancellationToken))
        {
            stored = await LinkQueries.GoodAsync(connection, Secret.Hash(token), cancellationToken);
        }

        if (stored is null || Read(stored) is not { } link || link.Shows != shows)
        {
            return null;
        }

        DateTimeOffset now = clock.GetUtcNow();
        if (link.UsedAt is not { } used || now - used >= BetweenMarks)
        {
            await database.WriteAsync(session => LinkQueries.UsedAsync(session, link.Id, now, CancellationToken.None), cancellationToken);
        }

        return link;
    }

    private static ViewLink Read(LinkStored row) => new(
        row.Id,
        row.Name,
        Enum.GetValues<LinkView>().First(view => Json.Name(view.ToString()) == row.Shows),
        Scope.Parse(row.Scope) ?? Scope.Nothing,
        row.MadeBy,
        row.MadeAt,
        row.UsedAt,
        row.RevokedAt);
}
