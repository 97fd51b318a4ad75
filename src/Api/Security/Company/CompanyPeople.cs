using System.Globalization;
using System.Security.Claims;
using Washwear.Api.Audit;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Security.Company;

/// <summary>An account for which the issuer vouches.</summary>
/// <param name="Subject">Its name there, which never changes.</param>
/// <param name="Login">What the claim of logins says; null: nothing that can be a login.</param>
/// <param name="IsVerified">Whether that may be believed.</param>
public sealed record CompanyAccount(string Subject, string? Login, bool IsVerified)
{
    private const string SubjectClaim = "sub";
    private const string VerifiedClaim = "email_verified";

    /// <summary>Reads the claims of a token that was checked.</summary>
    /// <param name="claims">The claims.</param>
    /// <param name="loginClaim">Claim that is held against logins.</param>
    /// <returns>Null: they name nobody.</returns>
    public static CompanyAccount? Read(ClaimsPrincipal claims, string loginClaim)
    {
        string? login = One(claims, loginClaim)?.Trim();
        bool isVerified = loginClaim != CompanyOptions.EmailClaim || string.Equals(One(claims, VerifiedClaim), "true", StringComparison.OrdinalIgnoreCase);
        return One(claims, SubjectClaim) is { Length: > 0 and <= CompanyOptions.MostCharacters } subject
            ? new CompanyAccount(subject, login is not null && Codes.IsValid(login) ? login : null, isVerified)
            : null;
    }

    private static string? One(ClaimsPrincipal claims, string type) => claims.FindAll(type).ToArray() is [var only] ? only.Value : null;
}

/// <summary>Who came in with an account, or why nobody did.</summary>
/// <param name="Person">The person; null: nobody.</param>
/// <param name="Refusal">Why not; null: somebody.</param>
public sealed record CompanyEntry(Person? Person, SignInTrouble? Refusal);

/// <summary>Knows whose account at the issuer is whose here. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
/// <param name="settings">Who the issuer is.</param>
public sealed class CompanyPeople(Database database, Settings settings)
{
    private static readonly CompanyEntry NotKnown = new(null, SignInTrouble.NobodyHasAccount);

    private static readonly CompanyEntry NoLogin = new(null, SignInTrouble.NoLoginTold);

    private static readonly CompanyEntry NotVerified = new(null, SignInTrouble.NotVerified);

    /// <summary>Finds whose account it is. An account that comes first is bound to the person whose login its claim says; from then on
    /// the issuer's own name for it counts alone, whatever else the issuer says of it.</summary>
    /// <param name="account">The account.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public Task<CompanyEntry> FindAsync(CompanyAccount account, CancellationToken cancellationToken)
    {
        AuditNote? note = AuditNote.Current;
        string issuer = settings.Company!.Issuer;
        return database.WriteAsync(
            async session =>
            {
                PersonRow? bound = await PersonQueries.BySubjectAsync(session, issuer, account.Subject, cancellationToken);
                CompanyEntry entry = bound is not null ? Entry(bound) : await BindAsync(session, issuer, account, note, cancellationToken);
                if (entry.Person is { } person)
                {
                    note?.By(AuditCaller.Of(person));
                }

                return entry;
            },
            cancellationToken);
    }

    // Whoever is bound to another account of this issuer stays so: the address of one who left may be given to somebody new.
    private static async Task<CompanyEntry> BindAsync(
        WriteSession session, string issuer, CompanyAccount account, AuditNote? note, CancellationToken cancellationToken)
    {
        if (account.Login is not { } login)
        {
            return NoLogin;
        }

        if (!account.IsVerified)
        {
            return NotVerified;
        }

        PersonRow? row = await PersonQueries.ByLoginAsync(session, Codes.Key(login), cancellationToken);
        if (row is null || row.DisabledAt is not null || row.Issuer == issuer)
        {
            return NotKnown;
        }

        await PersonQueries.SetSubjectAsync(session, row.Id, issuer, account.Subject, cancellationToken);
        note?.On("person", row.Id.ToString(CultureInfo.InvariantCulture), row.Login);
        note?.Saying("the company's account was bound to this person");
        return Entry(row);
    }

    private static CompanyEntry Entry(PersonRow row) => row.DisabledAt is null ? new CompanyEntry(Person.Read(row), null) : NotKnown;
}
