using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.SignIn;

/// <summary>Texts of the pages on which people come in: SignIn.en.json and its fellows. A name is the text's key.</summary>
public sealed record SignInTexts
{
    /// <summary>The files.</summary>
    public static TextFile<SignInTexts> File { get; } = new("SignIn");

    /// <summary>The texts in the language of the present reader.</summary>
    public static SignInTexts Now => File.Now;

    /// <summary>Heading and button.</summary>
    public required string SignIn { get; init; }

    /// <summary>Before the reason.</summary>
    public required string NotSignedIn { get; init; }

    /// <summary>A button; {account} is what the company's account is called.</summary>
    public required string WithCompany { get; init; }

    /// <summary>Below that button.</summary>
    public required string OrPassword { get; init; }

    /// <summary>Label.</summary>
    public required string Login { get; init; }

    /// <summary>Label.</summary>
    public required string Password { get; init; }

    /// <summary>What opens the form for a key.</summary>
    public required string WithAKey { get; init; }

    /// <summary>Label.</summary>
    public required string Key { get; init; }

    /// <summary>Button.</summary>
    public required string WithTheKey { get; init; }

    /// <summary>Note below it.</summary>
    public required string KeyIsKeptOut { get; init; }

    /// <summary>Note at the end.</summary>
    public required string NoLogin { get; init; }

    /// <summary>Why somebody is not let in.</summary>
    public required IReadOnlyDictionary<SignInTrouble, string> Troubles { get; init; }

    /// <summary>Heading for somebody new.</summary>
    public required string Invited { get; init; }

    /// <summary>Heading for somebody who lost a password.</summary>
    public required string SetNewPassword { get; init; }

    /// <summary>Before the reason.</summary>
    public required string NotSaved { get; init; }

    /// <summary>Label.</summary>
    public required string YourName { get; init; }

    /// <summary>Label.</summary>
    public required string YourLogin { get; init; }

    /// <summary>Note; {count} is the fewest characters.</summary>
    public required string PasswordRule { get; init; }

    /// <summary>Button for somebody new.</summary>
    public required string Join { get; init; }

    /// <summary>Button for a new password.</summary>
    public required string SetThePassword { get; init; }

    /// <summary>Note on what a new password brings.</summary>
    public required string OthersSignedOut { get; init; }

    /// <summary>Why a login, a name or a password cannot be taken; {fewest} and {most} are characters of a password.</summary>
    public required IReadOnlyDictionary<JoinTrouble, string> JoinTroubles { get; init; }

    /// <summary>Why a login, a name or a password cannot be taken.</summary>
    /// <param name="trouble">Why.</param>
    /// <param name="fewest">Fewest characters of a password.</param>
    /// <param name="most">Most of them.</param>
    /// <returns>A sentence or two.</returns>
    public string Told(JoinTrouble trouble, int fewest, int most) =>
        Fill.In(JoinTroubles[trouble], ("fewest", Text.Count(fewest)), ("most", Text.Count(most)));
}
