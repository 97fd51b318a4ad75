using System.Data.Common;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>A browser that is signed in, and who with it.</summary>
/// <param name="Id">Number of the session.</param>
/// <param name="PersonId">Number of the person; null: it was signed in with a key.</param>
/// <param name="KeyId">Number of the key; null: a person's.</param>
/// <param name="Name">The person's login, or the key's name: what is noted on records and decisions.</param>
/// <param name="ShownName">The person's name as pages show it.</param>
/// <param name="Abilities">What may be done now.</param>
/// <param name="Scope">Which part of the fleet is seen.</param>
/// <param name="CreatedAt">When it began.</param>
/// <param name="SeenAt">When it was last seen, to some minutes.</param>
/// <param name="Address">From which IP address it began.</param>
/// <param name="Agent">What the browser said of itself, cut.</param>
public sealed record Session(
    long Id, long? PersonId, long? KeyId, string Name, string ShownName, Abilities Abilities, Scope Scope, DateTimeOffset CreatedAt,
    DateTimeOffset SeenAt, string Address, string Agent)
{
    /// <summary>How the person likes to read, as it is kept; null: nothing was chosen.</summary>
    public string? Preferences { get; init; }
}

/// <summary>Keeps sign-ins on the server: a cookie carries nothing but the secret of one. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
/// <param name="settings">How long they last.</param>
/// <param name="cache">What was read a moment ago.</param>
/// <param name="clock">The clock.</param>
public sealed class Sessions(Database database, Settings settings, SessionCache cache, TimeProvider clock)
{
    private const int MostAddressCharacters = 64;
    private const int MostAgentCharacters = 200;
    private static readonly TimeSpan SeenWithin = TimeSpan.FromMinutes(5);

    /// <summary>Begins a session; the one before of the same browser ends, so that nobody goes on with a secret known before.</summary>
    /// <param name="personId">Number of the person; null: with a key.</param>
    /// <param name="keyId">Number of the key; null: for a person.</param>
    /// <param name="context">The request.</param>
    /// <param name="before">Secret of the browser's session so far; null: it has none.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The secret, for the cookie.</returns>
    public async Task<string> BeginAsync(long? personId, long? keyId, HttpContext context, string? before, CancellationToken cancellationToken)
    {
        string secret = Secret.Create(string.Empty);
        DateTimeOffset now = clock.GetUtcNow();
        var row = new SessionRow
        {
            Hash = Secret.Hash(secret),
            PersonId = personId,
            KeyId = keyId,
            CreatedAt = now,
            Address = Cut(context.Connection.RemoteIpAddress?.ToString() ?? string.Empty, MostAddressCharacters),
            Agent = Cut(context.Request.Headers.UserAgent.ToString(), MostAgentCharacters),
        };
        await database.WriteAsync(
            async session =>
            {
                if (before is not null)
                {
                    await SessionQueries.EndByHashAsync(session, Secret.Hash(before), cancellationToken);
                }

                await SessionQueries.AddAsync(session, row, cancellationToken);
            },
            cancellationToken);
        cache.Clear();
        return secret;
    }

    /// <summary>Finds a session that is good now, and notes that it was seen.</summary>
    /// <param name="secret">Its secret.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public async Task<Session?> FindAsync(string secret, CancellationToken cancellationToken)
    {
        byte[] hash = Secret.Hash(secret);
        if (await RowAsync(hash, cancellationToken) is not { } row)
        {
            return null;
        }

        DateTimeOffset now = clock.GetUtcNow();
        if (!IsGood(row, now))
        {
            return null;
        }

        if (now - LastSeen(row) >= SeenWithin)
        {
            cache.Saw(row.Id, now);
        }

        return Read(row);
    }

    /// <summary>Sessions that are good now, by their begin.</summary>
    /// <param name="personId">Only this person's; null: whoever's.</param>
    /// <param name="keyId">Only this key's; null: whoever's.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<Session>> ListAsync(long? personId, long? keyId, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        IReadOnlyList<SessionRow> rows = (personId, keyId) switch
        {
            ({ } person, _) => await SessionQueries.OfPersonAsync(connection, person, cancellationToken),
            (_, { } key) => await SessionQueries.OfKeyAsync(connection, key, cancellationToken),
            _ => await SessionQueries.AllAsync(connection, cancellationToken),
        };
        DateTimeOffset now = clock.GetUtcNow();
        return [.. rows.Where(row => IsGood(row, now)).Select(Read)];
    }

    /// <summary>Ends the session of a secret.</summary>
    /// <param name="secret">The secret.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task EndAsync(string secret, CancellationToken cancellationToken)
    {
        await database.WriteAsync(session => SessionQueries.EndByHashAsync(session, Secret.Hash(secret), cancellationToken), cancellationToken);
        cache.Clear();
    }

    /// <summary>Ends a session.</summary>
    /// <param name="id">Its number.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was one.</returns>
    public async Task<bool> EndAsync(long id, CancellationToken cancellationToken)
    {
        bool ended = await database.WriteAsync(
            async session => await SessionQueries.EndAsync(session, id, cancellationToken) > 0, cancellationToken);
        cache.Clear();
        return ended;
    }

    /// <summary>Ends all sessions of the one whose session it is, but that one.</summary>
    /// <param name="kept">The session that stays.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>How many ended.</returns>
    public async Task<int> EndOthersAsync(Session kept, CancellationToken cancellationToken)
    {
        int ended = await database.WriteAsync(
            session => kept.PersonId is { } person
                ? SessionQueries.EndOfPersonAsync(session, person, kept.Id, cancellationToken)
                : SessionQueries.EndOfKeyAsync(session, kept.KeyId ?? 0, kept.Id, cancellationToken),
            cancellationToken);
        cache.Clear();
        return ended;
    }

    /// <summary>Writes when sessions were last seen, and deletes those that are over.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task TidyAsync(CancellationToken cancellationToken)
    {
        IReadOnlyList<KeyValuePair<long, DateTimeOffset>> seen = cache.Seen();
        DateTimeOffset now = clock.GetUtcNow();
        await database.WriteAsync(
            async session =>
            {
                foreach ((long id, DateTimeOffset at) in seen)
                {
                    await SessionQueries.SawAsync(session, id, at, cancellationToken);
                }

                await SessionQueries.EndOldAsync(session, now - settings.SignInLasts, now - settings.SignInIdle, cancellationToken);
            },
            cancellationToken);
        cache.Wrote(seen);
    }

    private async Task<SessionRow?> RowAsync(byte[] hash, CancellationToken cancellationToken)
    {
        if (cache.Find(hash) is { } kept)
        {
            return kept;
        }

        long generation = cache.Generation;
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        if (await SessionQueries.ByHashAsync(connection, hash, cancellationToken) is not { } row)
        {
            return null;
        }

        cache.Keep(hash, row, generation);
        return row;
    }

    private bool IsGood(SessionRow row, DateTimeOffset now) =>
        now - row.CreatedAt < settings.SignInLasts && now - LastSeen(row) < settings.SignInIdle;

    private DateTimeOffset LastSeen(SessionRow row) => cache.SeenAt(row.Id) is { } at && at > row.SeenAt ? at : row.SeenAt;

    private Session Read(SessionRow row) => new(
        row.Id,
        row.PersonId,
        row.KeyId,
        row.Name,
        row.ShownName,
        AbilityRules.TryParse(row.Abilities, out Abilities abilities) ? abilities : Abilities.None,
        Scope.Parse(row.Scope) ?? Scope.Nothing,
        row.CreatedAt,
        LastSeen(row),
        row.Address,
        row.Agent)
    {
        Preferences = row.Preferences,
    };

    private static string Cut(string text, int most)
    {
        string plain = string.Concat(text.Where(character => !char.IsControl(character) && !char.IsSurrogate(character)));
        return plain.Length <= most ? plain : plain[..most];
    }
}
