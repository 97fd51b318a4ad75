using System.Data.Common;
using Washwear.Api.Audit;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>A key, without its secret.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Name">Name; records that it sends have this as their source.</param>
/// <param name="Abilities">What it may do.</param>
/// <param name="Scope">Which part of the fleet it sees.</param>
/// <param name="CreatedAt">When it was made.</param>
/// <param name="RevokedAt">When it was revoked; null: it is good.</param>
public sealed record ApiKey(int Id, string Name, Abilities Abilities, Scope Scope, DateTimeOffset CreatedAt, DateTimeOffset? RevokedAt);

/// <summary>Makes, finds and revokes keys and one-time sign-in links.</summary>
/// <param name="database">The database.</param>
/// <param name="sessions">Sign-ins that were read a moment ago.</param>
/// <param name="clock">The clock.</param>
public sealed class Keys(Database database, SessionCache sessions, TimeProvider clock)
{
    /// <summary>Name of the key that the first start makes.</summary>
    public const string FirstName = "admin";

    /// <summary>Fewest characters of a key that somebody chose.</summary>
    public const int FewestCharacters = 24;

    private static readonly TimeSpan LinkLasts = TimeSpan.FromHours(1);

    /// <summary>Makes a key.</summary>
    /// <param name="name">Its name, not used before, not even by a revoked key.</param>
    /// <param name="abilities">What it may do.</param>
    /// <param name="scope">Which part of the fleet it sees.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The secret, which is not stored; null when the name is taken.</returns>
    /// <exception cref="ArgumentException">An ability acts on what all operators share, and the scope is not the whole fleet.</exception>
    public Task<string?> AddAsync(string name, Abilities abilities, Scope scope, CancellationToken cancellationToken)
    {
        if (!AbilityRules.Fit(abilities, scope))
        {
            throw new ArgumentException(AbilityRules.WholeFleetOnly, nameof(scope));
        }

        string secret = Secret.Create(Secret.KeyPrefix);
        return database.WriteAsync(
            async session =>
            {
                if (await KeyQueries.NameTakenAsync(session, name, cancellationToken)
                    || await PersonQueries.ByLoginAsync(session, Codes.Key(name), cancellationToken) is not null)
                {
                    return null;
                }

                await StoreAsync(session, name, secret, abilities, scope, cancellationToken);
                return secret;
            },
            cancellationToken);
    }

    /// <summary>Makes the first administrator's key if there is no key at all.</summary>
    /// <param name="chosen">The secret to take; null: one is made.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The secret that was made and must be shown once; null when one was chosen or there are keys.</returns>
    /// <exception cref="SettingException">The chosen secret is too short.</exception>
    public Task<string?> EnsureFirstAsync(string? chosen, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            if (await KeyQueries.AnyAsync(session, cancellationToken))
            {
                return null;
            }

            if (chosen is { Length: < FewestCharacters })
            {
                throw new SettingException($"Setting admin_key must have at least {FewestCharacters} characters.");
            }

            string secret = chosen ?? Secret.Create(Secret.KeyPrefix);
            await StoreAsync(session, FirstName, secret, Abilities.All, Scope.Everything, cancellationToken);
            return chosen is null ? secret : null;
        },
        cancellationToken);

    /// <summary>Finds the good key that a secret belongs to.</summary>
    /// <param name="secret">The secret.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public async Task<ApiKey?> FindAsync(string secret, CancellationToken cancellationToken)
    {
        byte[] hash = Secret.Hash(secret);
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        KeyRow? row = await KeyQueries.ByHashAsync(connection, hash, cancellationToken);
        return row is not null && Secret.SameHash(row.Hash, hash) ? Read(row) : null;
    }

    /// <summary>Finds a good key by its number.</summary>
    /// <param name="id">The number.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public async Task<ApiKey?> FindAsync(int id, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await KeyQueries.ByIdAsync(connection, id, cancellationToken) is { } row ? Read(row) : null;
    }

    /// <summary>All keys, revoked ones too, by name.</summary>
    /// <param name="cancellationToken">Stops the statement.</param>
    public async Task<IReadOnlyList<ApiKey>> ListAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. (await KeyQueries.AllAsync(connection, cancellationToken)).Select(Read)];
    }

    /// <summary>Revokes a key; it stops working with the next request, and so do the sign-ins made with it.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was a good key of that name.</returns>
    public async Task<bool> RevokeAsync(string name, CancellationToken cancellationToken)
    {
        bool revoked = await database.WriteAsync(
            async session =>
            {
                await PersonLinkQueries.WithdrawOfMakerAsync(session, name, cancellationToken);
                return await KeyQueries.RevokeAsync(session, name, clock.GetUtcNow(), cancellationToken) > 0;
            },
            cancellationToken);
        sessions.Clear();
        return revoked;
    }

    /// <summary>Revokes a key for somebody who may do as much, unless nobody would be left who may administer.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="by">What whoever revokes it may do.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was a good key of that name.</returns>
    /// <exception cref="PersonRefusedException">It cannot be done.</exception>
    public async Task<bool> RevokeAsync(string name, Abilities by, CancellationToken cancellationToken)
    {
        bool revoked = await database.WriteAsync(
            async session =>
            {
                if ((await KeyQueries.GoodAsync(session, cancellationToken)).FirstOrDefault(key => key.Name == name) is not { } found)
                {
                    return false;
                }

                PersonRules.Within(found.Abilities, by);
                await KeyQueries.RevokeAsync(session, name, clock.GetUtcNow(), cancellationToken);
                await PersonLinkQueries.WithdrawOfMakerAsync(session, name, cancellationToken);
                await Administrators.EnsureOneAsync(session, cancellationToken);
                return true;
            },
            cancellationToken);
        sessions.Clear();
        return revoked;
    }

    /// <summary>Makes a link that signs a person in once, within an hour, with what a key may do.</summary>
    /// <param name="name">Name of a good key.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Path and query of the link; null when there is no such key.</returns>
    public async Task<string?> AddSignInLinkAsync(string name, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        if (await KeyQueries.ByNameAsync(connection, name, cancellationToken) is not { } key)
        {
            return null;
        }

        string token = Secret.Create(string.Empty);
        DateTimeOffset expires = clock.GetUtcNow() + LinkLasts;
        await database.WriteAsync(
            session => KeyQueries.AddLinkAsync(session, Secret.Hash(token), key.Id, expires, cancellationToken), cancellationToken);
        return $"{SignIn.LinkPath}?token={token}";
    }

    /// <summary>Uses up a sign-in link.</summary>
    /// <param name="token">Its token.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The key it signs in with; null when the link is unknown, old or used.</returns>
    public async Task<ApiKey?> UseSignInLinkAsync(string token, CancellationToken cancellationToken)
    {
        KeyRow? row = await database.WriteAsync(
            async session =>
            {
                KeyRow? used = await KeyQueries.UseLinkAsync(session, Secret.Hash(token), clock.GetUtcNow(), cancellationToken);
                if (used is not null)
                {
                    // The audit's entry is written with this very change.
                    AuditNote.Current?.By(AuditCaller.Of(Read(used)));
                }

                return used;
            },
            cancellationToken);
        return row is null ? null : Read(row);
    }

    private Task StoreAsync(
        WriteSession session, string name, string secret, Abilities abilities, Scope scope, CancellationToken cancellationToken) =>
        KeyQueries.AddAsync(
            session, name, Secret.Hash(secret), string.Join(' ', AbilityRules.Words(abilities)), scope.ToString(), clock.GetUtcNow(), cancellationToken);

    // Abilities that this version does not know count for nothing, and in a scope that it cannot read nothing is seen.
    internal static ApiKey Read(KeyRow row) => new(
        row.Id,
        row.Name,
        AbilityRules.TryParse(row.Abilities, out Abilities abilities) ? abilities : Abilities.None,
        Scope.Parse(row.Scope) ?? Scope.Nothing,
        row.CreatedAt,
        row.RevokedAt);
}
