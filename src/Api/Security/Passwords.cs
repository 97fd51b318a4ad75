using System.Text;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using Washwear.Api.Registry;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Security;

/// <summary>How passwords are kept: PBKDF2 with HMAC-SHA-512, a salt each, by the platform's own hasher. Safe for concurrent use.</summary>
public sealed class Passwords
{
    // OWASP Password Storage Cheat Sheet, PBKDF2-HMAC-SHA512: 210,000 or more.
    private const int Rounds = 210_000;

    private static readonly object Nobody = new();
    private readonly PasswordHasher<object> _hasher = new(Options.Create(new PasswordHasherOptions { IterationCount = Rounds }));
    private readonly Lazy<string> _hashOfNobody;

    /// <summary>Starts without having hashed anything.</summary>
    public Passwords() => _hashOfNobody = new Lazy<string>(() => Hash(Secret.Create(string.Empty)));

    /// <summary>What passwords for logins that nobody has are held against.</summary>
    internal string HashOfNobody => _hashOfNobody.Value;

    /// <summary>Hashes a password.</summary>
    /// <param name="password">The password.</param>
    public string Hash(string password) => _hasher.HashPassword(Nobody, Composed(password));

    /// <summary>Holds a password against a hash; takes as long where there is none.</summary>
    /// <param name="hash">The hash; null: there is none, and no password is right.</param>
    /// <param name="password">The password.</param>
    /// <returns>Success where it should be hashed anew: SuccessRehashNeeded.</returns>
    public PasswordVerificationResult Check(string? hash, string password)
    {
        PasswordVerificationResult result = _hasher.VerifyHashedPassword(Nobody, hash ?? _hashOfNobody.Value, Composed(password));
        return hash is null ? PasswordVerificationResult.Failed : result;
    }

    // An accented letter is one character on one keyboard and two on another. Text that is none at all is taken as it stands.
    private static string Composed(string password) => password.IsNormalized(NormalizationForm.FormC) ? password : Normal(password);

    private static string Normal(string password)
    {
        try
        {
            return password.Normalize(NormalizationForm.FormC);
        }
        catch (ArgumentException)
        {
            return password;
        }
    }
}

/// <summary>What a password must be, after OWASP ASVS 5.0.0, section 6.2: long, not a common one, and nothing else.</summary>
public static class PasswordRules
{
    /// <summary>Fewest characters.</summary>
    public const int Fewest = 12;

    /// <summary>Most characters.</summary>
    public const int Most = JoinReport.MostCharacters;

    private static readonly Lazy<HashSet<string>> Common = new(Load);

    /// <summary>Why a password cannot be taken; null: it can.</summary>
    /// <param name="password">The password.</param>
    /// <param name="login">Login of whom it is for.</param>
    /// <param name="name">Name of whom it is for.</param>
    public static JoinTrouble? WhyNot(string password, string login, string name)
    {
        int length = password.EnumerateRunes().Count();
        if (length < Fewest)
        {
            return JoinTrouble.PasswordTooShort;
        }

        if (length > Most)
        {
            return JoinTrouble.PasswordTooLong;
        }

        string plain = Codes.Key(password);
        bool isCommon = new[] { plain, Bare(plain), Once(plain), Once(Bare(plain)) }.Any(Common.Value.Contains) || plain.Distinct().Count() < 4;
        if (isCommon)
        {
            return JoinTrouble.PasswordCommon;
        }

        return new[] { Codes.Key(login), Codes.Key(name), "washwear" }.Any(word => word.Length >= 4 && IsMostly(plain, word))
            ? JoinTrouble.PasswordOwnName
            : null;
    }

    private static bool IsMostly(string password, string word) =>
        password.Replace(word, string.Empty, StringComparison.Ordinal).Count(char.IsLetter) < 4 && password.Contains(word, StringComparison.Ordinal);

    // 'password1234!' is 'password'.
    private static string Bare(string password) => password.Trim([.. password.Where(character => !char.IsLetter(character))]);

    // 'passwordpassword' is 'password'.
    private static string Once(string password)
    {
        for (int length = 1; length <= password.Length / 2; length++)
        {
            if (password.Length % length == 0 && password[length..] == password[..^length])
            {
                return password[..length];
            }
        }

        return password;
    }

    private static HashSet<string> Load()
    {
        using Stream stream = typeof(PasswordRules).Assembly.GetManifestResourceStream("security/common-passwords.txt")!;
        using var reader = new StreamReader(stream);
        return [.. reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(line => line[0] != '#')];
    }
}
