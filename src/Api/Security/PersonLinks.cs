using System.Data.Common;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>An invitation that nobody has taken yet, or a link to set a new password.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="PersonId">Whose password; null: it invites.</param>
/// <param name="Abilities">What whoever is invited will be able to do.</param>
/// <param name="Scope">Which part of the fleet whoever is invited will see.</param>
/// <param name="Note">Whom it is meant for.</param>
/// <param name="MadeBy">Who made it.</param>
/// <param name="MadeAt">When.</param>
/// <param name="ExpiresAt">Until when it can be used.</param>
public sealed record PersonLink(
    long Id, long? PersonId, Abilities Abilities, Scope Scope, string Note, string MadeBy, DateTimeOffset MadeAt, DateTimeOffset ExpiresAt);

/// <summary>Makes links that let somebody in once: invitations, and links to set a new password. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
/// <param name="settings">How long they can be used.</param>
/// <param name="passwords">Hashes.</param>
/// <param name="sessions">Sign-ins that were read a moment ago.</param>
/// <param name="clock">The clock.</param>
public sealed class PersonLinks(Database database, Settings settings, Passwords passwords, SessionCache sessions, TimeProvider clock)
{
    /// <summary>Most characters of what is noted about an invitation.</summary>
    public const int MostNoteCharacters = 200;

    /// <summary>Makes an invitation.</summary>
    /// <param name="abilities">What whoever is invited will be able to do.</param>
    /// <param name="scope">Which part of the fleet whoever is invited will see.</param>
    /// <param name="note">Whom it is meant for; up to 200 characters.</param>
    /// <param name="madeBy">Who makes it.</param>
    /// <param name="by">What that one may do.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The invitation, and the token of its link, which is not stored.</returns>
    /// <exception cref="PersonRefusedException">It cannot be done.</exception>
    public Task<(PersonLink Link, string Token)> InviteAsync(
        Abilities abilities, Scope scope, string note, string madeBy, Abilities by, CancellationToken cancellationToken)
    {
        PersonRules.Fits(abilities, scope);
        PersonRules.Within(abilities, by);
        DateTimeOffset now = clock.GetUtcNow();
        return StoreAsync(
            new PersonLinkRow
            {
                Abilities = string.Join(' ', AbilityRules.Words(abilities)),
                Scope = scope.ToString(),
                Note = note,
                MadeBy = madeBy,
                MadeAt = now,
                ExpiresAt = now + settings.InvitationLasts,
            },
            cancellationToken);
    }

    /// <summary>Makes a link by which a person can set a new password; one made before is good no more.</summary>
    /// <param name="person">Who.</param>
    /// <param name="madeBy">Who makes it.</param>
    /// <param name="by">What that one may do; more than the person may.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The link, and its token, which is not stored.</returns>
    /// <exception cref="PersonRefusedException">The person may do more.</exception>
    public Task<(PersonLink Link, string Token)> ResetAsync(Person person, string madeBy, Abilities by, CancellationToken cancellationToken)
    {
        PersonRules.Within(person.Abilities, by);
        DateTimeOffset now = clock.GetUtcNow();
        return StoreAsync(
            new PersonLinkRow
            {
                PersonId = person.Id,
                Scope = Scope.Everything.ToString(),
                MadeBy = madeBy,
                MadeAt = now,
                ExpiresAt = now + settings.InvitationLasts,
            },
            cancellationToken);
    }

    /// <summary>Invitations that can be used now, by when they were made.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<PersonLink>> OpenAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. (await PersonLinkQueries.OpenAsync(connection, clock.GetUtcNow(), cancellationToken)).Select(Read)];
    }

    /// <summary>The link of a token, if it can be used now.</summary>
    /// <param name="token">The token.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<PersonLink?> FindAsync(string token, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await PersonLinkQueries.ByHashAsync(connection, Secret.Hash(token), clock.GetUtcNow(), cancellationToken) is { } row ? Read(row) : null;
    }

    /// <summary>Takes an invitation back.</summary>
    /// <param name="id">Its number.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was one that could still be used.</returns>
    public Task<bool> WithdrawAsync(long id, CancellationToken cancellationToken) =>
        database.WriteAsync(session => PersonLinkQueries.WithdrawAsync(session, id, cancellationToken), cancellationToken);

    /// <summary>Takes an invitation up: the person is there and the link used, or neither.</summary>
    /// <param name="token">Its token.</param>
    /// <param name="login">Login that was chosen.</param>
    /// <param name="name">Name to show.</param>
    /// <param name="password">Password, which fits the rules.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Null: it cannot be used any more.</returns>
    /// <exception cref="PersonRefusedException">The login is taken or is none.</exception>
    public Task<Person?> AcceptAsync(string token, string login, string name, string password, CancellationToken cancellationToken)
    {
        byte[] hash = Secret.Hash(token);
        string passwordHash = passwords.Hash(password);
        return database.WriteAsync<Person?>(
            async session =>
            {
                DateTimeOffset now = clock.GetUtcNow();
                if (await PersonLinkQueries.ByHashAsync(session, hash, now, cancellationToken) is not { PersonId: null } row)
                {
                    return null;
                }

                PersonLink link = Read(row);
                await PersonLinkQueries.UseAsync(session, hash, now, cancellationToken);
                return await People.AddAsync(
                    session, new NewPerson(login, name, link.Abilities, link.Scope), passwordHash, now, cancellationToken);
            },
            cancellationToken);
    }

    /// <summary>Uses a link to set a new password; all sessions of the person end.</summary>
    /// <param name="token">Its token.</param>
    /// <param name="password">Password, which fits the rules.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Number of the person; null: it cannot be used any more.</returns>
    public async Task<long?> SetPasswordAsync(string token, string password, CancellationToken cancellationToken)
    {
        byte[] hash = Secret.Hash(token);
        string passwordHash = passwords.Hash(password);
        long? id = await database.WriteAsync<long?>(
            async session =>
            {
                DateTimeOffset now = clock.GetUtcNow();
                if (await PersonLinkQueries.ByHashAsync(session, hash, now, cancellationToken) is not { PersonId: { } person }
                    || await PersonQueries.ByIdAsync(session, person, cancellationToken) is not { DisabledAt: null })
                {
                    return null;
                }

                await PersonLinkQueries.UseAsync(session, hash, now, cancellationToken);
                await PersonQueries.SetPasswordAsync(session, person, passwordHash, now, cancellationToken);
                await SessionQueries.EndOfPersonAsync(session, person, 0, cancellationToken);
                return person;
            },
            cancellationToken);
        sessions.Clear();
        return id;
    }

    private async Task<(PersonLink Link, string Token)> StoreAsync(PersonLinkRow row, CancellationToken cancellationToken)
    {
        string token = Secret.Create(string.Empty);
        long id = await database.WriteAsync(
            async session =>
            {
                if (row.PersonId is { } person)
                {
                    await PersonLinkQueries.WithdrawOfPersonAsync(session, person, cancellationToken);
                }

                return await PersonLinkQueries.AddAsync(session, Secret.Hash(token), row, cancellationToken);
            },
            cancellationToken);
        return (Read(row with { Id = id }), token);
    }

    private static PersonLink Read(PersonLinkRow row) => new(
        row.Id,
        row.PersonId,
        AbilityRules.TryParse(row.Abilities, out Abilities abilities) ? abilities : Abilities.None,
        Scope.Parse(row.Scope) ?? Scope.Nothing,
        row.Note,
        row.MadeBy,
        row.MadeAt,
        row.ExpiresAt);
}
