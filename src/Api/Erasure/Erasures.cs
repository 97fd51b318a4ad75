using System.Globalization;
using System.Security.Cryptography;
using Washwear.Api.Audit;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Erasure;

/// <summary>What an erasure did.</summary>
/// <param name="Pseudonym">What stands in the place of the names now.</param>
/// <param name="Replaced">Where they stood, and in how many rows.</param>
/// <param name="PhotosDeleted">Photos of the person's visits, which are gone.</param>
/// <param name="KeysRevoked">Keys that had one of the names; they are revoked.</param>
public sealed record ErasureReport(string Pseudonym, IReadOnlyList<ReplacedPlace> Replaced, int PhotosDeleted, int KeysRevoked);

/// <summary>Where names were replaced.</summary>
/// <param name="Place">What holds them, such as visit.technician.</param>
/// <param name="Rows">In how many rows they stood.</param>
public sealed record ReplacedPlace(string Place, int Rows);

/// <summary>A name is that of several people who sign in; nothing was changed.</summary>
/// <param name="people">How many.</param>
public sealed class SeveralPeopleException(int people)
    : Exception(FormattableString.Invariant($"{people} people who sign in have this name. Give the login of the one who is meant as well. Nothing was changed."));

/// <summary>Puts a pseudonym in the place of a person's names, wherever they stand, in one transaction. Counts, reports, keys and what
/// tells a record that is sent again stay as they are.</summary>
/// <param name="database">The database.</param>
/// <param name="clock">The clock.</param>
public sealed class Erasures(Database database, TimeProvider clock)
{
    private const int FewestLetters = 3;
    private const int MostLetters = 200;
    private const int MostNames = 10;

    /// <summary>What speaks against erasing names as given; null: nothing.</summary>
    /// <param name="names">The names.</param>
    public static string? WhyNot(IReadOnlyList<string> names) =>
        names.Count is 0 or > MostNames ? FormattableString.Invariant($"Give 1 to {MostNames} names of one person.")
        : names.Any(name => name.Trim().Length is < FewestLetters or > MostLetters || !name.Any(char.IsLetter) || name.Any(char.IsControl))
            ? FormattableString.Invariant($"A name has {FewestLetters} to {MostLetters} characters, a letter among them.")
        : null;

    /// <summary>Erases a person.</summary>
    /// <param name="names">All names of the person, such as the full name and the one at sign-in.</param>
    /// <param name="cancellationToken">Stops waiting for the turn.</param>
    /// <returns>What was done; null: none of the names stands where people are named, and nothing was changed.</returns>
    /// <exception cref="SeveralPeopleException">The name is that of several people, and no login was given.</exception>
    public async Task<ErasureReport?> EraseAsync(IReadOnlyList<string> names, CancellationToken cancellationToken)
    {
        string[] given = [.. names.Select(name => name.Trim()).Distinct(StringComparer.OrdinalIgnoreCase)];
        ErasureReport? report = await database.WriteAsync(
            async session =>
            {
                await database.Engine.OverwriteAsync(session, true);
                try
                {
                    return await EraseAsync(session, given);
                }
                finally
                {
                    await database.Engine.OverwriteAsync(session, false);
                }
            },
            cancellationToken);
        await database.Engine.ForgetLogAsync(cancellationToken);
        return report;
    }

    private async Task<ErasureReport?> EraseAsync(WriteSession session, string[] given)
    {
        List<ErasedName> known = [.. await ErasureQueries.KnownAsync(session)];
        string pseudonym = known.Find(name => given.Any(name.Is)) is { } before ? BaseOf(before.Pseudonym) : NewPseudonym(known);
        IReadOnlyList<Account> accounts = await AccountsAsync(session, given);
        string[] logins = [.. accounts.Select(account => account.Login).Except(given, StringComparer.OrdinalIgnoreCase)];
        string[] all = [.. given.Union(accounts.Select(account => account.Name), StringComparer.OrdinalIgnoreCase).Except(logins, StringComparer.OrdinalIgnoreCase)];
        var names = new NameText(all, logins, pseudonym);
        var erasing = new Erasing(session, names, pseudonym, source => known.Find(name => name.Is(source))!.Pseudonym, clock.GetUtcNow());
        if (accounts.Count == 0 && !await erasing.IsAnybodyAsync())
        {
            return null;
        }

        foreach (string name in all.Concat(logins).Where(name => !known.Exists(one => one.Is(name))))
        {
            int others = known.Count(one => BaseOf(one.Pseudonym) == pseudonym);
            var erased = ErasedName.Of(name, others == 0 ? pseudonym : FormattableString.Invariant($"{pseudonym}/{others + 1}"));
            await ErasureQueries.AddAsync(session, erased, clock.GetUtcNow());
            known.Add(erased);
        }

        ErasureReport report = await erasing.RunAsync(accounts);

        // What is kept in memory, here and at other nodes, is read anew with another version of the registry.
        await RegistryWriteQueries.GrowVersionAsync(session, CancellationToken.None);
        Tell(report, names);
        return report;
    }

    // A login is one person's; a name may be that of several, who are then told apart by their logins.
    private static async Task<IReadOnlyList<Account>> AccountsAsync(WriteSession session, string[] given)
    {
        IReadOnlyList<Account> all = await ErasureQueries.AccountsAsync(session);
        Account[] byLogin = [.. all.Where(account => given.Contains(account.Login, StringComparer.OrdinalIgnoreCase))];
        Account[] byName = [.. all.Where(account => given.Contains(account.Name, StringComparer.OrdinalIgnoreCase))];
        return byLogin.Length > 0 ? byLogin
            : byName.Length <= 1 ? byName
            : throw new SeveralPeopleException(byName.Length);
    }

    // The entry of this very erasure is written after it.
    private static void Tell(ErasureReport report, NameText names)
    {
        if (AuditNote.Current is not { } note)
        {
            return;
        }

        if (note.Entry.Caller is { Name: { } caller } && names.IsWhole(caller))
        {
            note.By(note.Entry.Caller with { Name = report.Pseudonym });
        }

        note.On("person", null, report.Pseudonym);
        note.Saying(string.Create(
            CultureInfo.InvariantCulture,
            $"{report.Replaced.Sum(place => place.Rows)} rows, {report.PhotosDeleted} photos deleted, {report.KeysRevoked} keys revoked"));
    }

    // Each name of a person is told apart where it is the source of records; all else has the first form.
    private static string BaseOf(string pseudonym) => pseudonym.Split('/')[0];

    private static string NewPseudonym(List<ErasedName> known)
    {
        for (int bytes = 2; ; bytes++)
        {
            string tried = "person " + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(bytes));
            if (known.TrueForAll(name => BaseOf(name.Pseudonym) != tried))
            {
                return tried;
            }
        }
    }
}
