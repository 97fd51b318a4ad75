namespace Washwear.Dashboard.SignIn;

/// <summary>What the sign-in page shows.</summary>
/// <param name="Trouble">Why the last try failed; null on a first visit.</param>
/// <param name="ReturnTo">Path of the page to go to after signing in; null: the first page.</param>
public sealed record SignInReport(SignInTrouble? Trouble, string? ReturnTo)
{
    /// <summary>Whether the last try was with a key.</summary>
    public bool WithKey { get; init; }

    /// <summary>What the account is called with which people of a company sign in, without a password of this service; null: there is no such way.</summary>
    public string? CompanyAccount { get; init; }
}

/// <summary>What the page shows on which somebody chooses a password.</summary>
/// <param name="Token">Token of the link that leads there.</param>
/// <param name="IsNew">Whether somebody new chooses login and name too.</param>
/// <param name="Login">The login, or what was filled in.</param>
/// <param name="Name">The name, or what was filled in.</param>
/// <param name="FewestCharacters">Fewest characters of a password.</param>
/// <param name="Trouble">Why the last try failed; null on a first visit.</param>
public sealed record JoinReport(string Token, bool IsNew, string Login, string Name, int FewestCharacters, JoinTrouble? Trouble)
{
    /// <summary>Most characters of a password.</summary>
    public const int MostCharacters = 128;
}
