using System.Data.Common;
using Microsoft.AspNetCore.Identity;
using Washwear.Api.Audit;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Finds, adds and changes people and checks their passwords. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
/// <param name="passwords">Hashes.</param>
/// <param name="sessions">Sign-ins that were read a moment ago.</param>
/// <param name="clock">The clock.</param>
public sealed class People(Database database, Passwords passwords, SessionCache sessions, TimeProvider clock)
{
    // Sessions of nobody have this number.
    private const long NoSession = 0;

    /// <summary>Finds who signs in with a login and a password; it takes as long for a login that nobody has.</summary>
    /// <param name="login">The login, compared without case.</param>
    /// <param name="password">The password.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Null: they do not fit together, or the person may not sign in any more.</returns>
    public async Task<Person?> FindAsync(string login, string password, CancellationToken cancellationToken)
    {
        PersonRow? row = await RowAsync(login, cancellationToken);
        PasswordVerificationResult result = passwords.Check(row?.Password, password);
        if (row?.Password is not { } hash || row.DisabledAt is not null || result == PasswordVerificationResult.Failed)
        {
            return null;
        }

        AuditNote.Current?.By(AuditCaller.Of(Person.Read(row)));
        if (result == PasswordVerificationResult.SuccessRehashNeeded)
        {
            string renewed = passwords.Hash(password);
            await database.WriteAsync(session => PersonQueries.RehashAsync(session, row.Id, hash, renewed, cancellationToken), cancellationToken);
        }

        return Person.Read(row);
    }

    /// <summary>One person.</summary>
    /// <param name="id">The number.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<Person?> FindAsync(long id, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await PersonQueries.ByIdAsync(connection, id, cancellationToken) is { } row ? Person.Read(row) : null;
    }

    /// <summary>One person.</summary>
    /// <param name="login">The login, compared without case.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<Person?> FindAsync(string login, CancellationToken cancellationToken) =>
        await RowAsync(login, cancellationToken) is { } row ? Person.Read(row) : null;

    /// <summary>People by their logins, those who may not sign in any more too.</summary>
    /// <param name="after">Only those with a later login in lower case; null: from the first.</param>
    /// <param name="limit">Most of them; null: all.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<Person>> ListAsync(string? after, int? limit, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        IReadOnlyList<PersonRow> rows = limit is { } most
            ? await PersonQueries.PageAsync(connection, after, most, cancellationToken)
            : await PersonQueries.AllAsync(connection, cancellationToken);
        return [.. rows.Select(Person.Read)];
    }

    /// <summary>How many people may sign in.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<int> CountAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await PersonQueries.CountAsync(connection, cancellationToken);
    }

    /// <summary>Adds a person without a password.</summary>
    /// <param name="person">Who.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <exception cref="PersonRefusedException">It cannot be done.</exception>
    public Task<Person> AddAsync(NewPerson person, CancellationToken cancellationToken) =>
        database.WriteAsync(session => AddAsync(session, person, null, clock.GetUtcNow(), cancellationToken), cancellationToken);

    /// <summary>Changes what a person may do, sees and is called, and whether the person may sign in. Holds at the next request.</summary>
    /// <param name="id">Number of the person.</param>
    /// <param name="by">What whoever changes it may do.</param>
    /// <param name="change">Gives the person as it shall be.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The person after that; null: there is none.</returns>
    /// <exception cref="PersonRefusedException">It cannot be done.</exception>
    public async Task<Person?> ChangeAsync(long id, Abilities by, Func<Person, Person> change, CancellationToken cancellationToken)
    {
        Person? changed = await database.WriteAsync(
            async session =>
            {
                if (await PersonQueries.ByIdAsync(session, id, cancellationToken) is not { } row)
                {
                    return null;
                }

                Person before = Person.Read(row);
                Person after = change(before);
                PersonRules.Change(before, after, by);
                await PersonQueries.PutAsync(session, Row(row, after), cancellationToken);
                if (after.DisabledAt is not null)
                {
                    await SessionQueries.EndOfPersonAsync(session, id, NoSession, cancellationToken);
                }

                // Who may do less has invited to what may be too much now.
                if (after.DisabledAt is not null || (before.Abilities & ~after.Abilities) != Abilities.None || !after.Scope.Equals(before.Scope))
                {
                    await PersonLinkQueries.WithdrawOfMakerAsync(session, before.Login, cancellationToken);
                }

                await Administrators.EnsureOneAsync(session, cancellationToken);
                return after;
            },
            cancellationToken);
        sessions.Clear();
        return changed;
    }

    /// <summary>Disables a person by the command line, the last administrator too.</summary>
    /// <param name="login">The login.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was such a person.</returns>
    public Task<bool> DisableAsync(string login, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            if (await PersonQueries.ByLoginAsync(session, Codes.Key(login), cancellationToken) is not { } row)
            {
                return false;
            }

            await PersonQueries.PutAsync(session, row with { DisabledAt = row.DisabledAt ?? clock.GetUtcNow() }, cancellationToken);
            await SessionQueries.EndOfPersonAsync(session, row.Id, NoSession, cancellationToken);
            await PersonLinkQueries.WithdrawOfMakerAsync(session, row.Login, cancellationToken);
            return true;
        },
        cancellationToken);

    /// <summary>Forgets which account of a company is a person's, so that the next one that comes with the login is.</summary>
    /// <param name="login">The login.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was such a person.</returns>
    public Task<bool> ReleaseAsync(string login, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            if (await PersonQueries.ByLoginAsync(session, Codes.Key(login), cancellationToken) is not { } row)
            {
                return false;
            }

            await PersonQueries.SetSubjectAsync(session, row.Id, null, null, cancellationToken);
            await SessionQueries.EndOfPersonAsync(session, row.Id, NoSession, cancellationToken);
            return true;
        },
        cancellationToken);

    /// <summary>Sets a new password; all sessions of the person but one end.</summary>
    /// <param name="id">Number of the person.</param>
    /// <param name="password">The password, which fits the rules.</param>
    /// <param name="keptSession">The session that stays; null: none.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task SetPasswordAsync(long id, string password, long? keptSession, CancellationToken cancellationToken)
    {
        string hash = passwords.Hash(password);
        await database.WriteAsync(
            async session =>
            {
                await PersonQueries.SetPasswordAsync(session, id, hash, clock.GetUtcNow(), cancellationToken);
                await SessionQueries.EndOfPersonAsync(session, id, keptSession ?? NoSession, cancellationToken);
            },
            cancellationToken);
        sessions.Clear();
    }

    /// <summary>Adds a person within a transaction.</summary>
    internal static async Task<Person> AddAsync(
        WriteSession session, NewPerson person, string? password, DateTimeOffset now, CancellationToken cancellationToken)
    {
        PersonRules.New(person);
        string key = Codes.Key(person.Login);
        bool isTaken = await PersonQueries.ByLoginAsync(session, key, cancellationToken) is not null
            || (await KeyQueries.NamesAsync(session, cancellationToken)).Any(name => Codes.Key(name) == key);
        if (isTaken)
        {
            throw new PersonRefusedException("login", "taken", $"Somebody, or a key, has the login '{person.Login}' already.", "Choose another login.");
        }

        await PersonQueries.AddAsync(session, person.Row(password, now), cancellationToken);
        return Person.Read((await PersonQueries.ByLoginAsync(session, key, cancellationToken))!);
    }

    private async Task<PersonRow?> RowAsync(string login, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await PersonQueries.ByLoginAsync(connection, Codes.Key(login), cancellationToken);
    }

    private static PersonRow Row(PersonRow before, Person after) => before with
    {
        Name = after.Name,
        Abilities = string.Join(' ', AbilityRules.Words(after.Abilities)),
        Scope = after.Scope.ToString(),
        DisabledAt = after.DisabledAt,
    };
}
