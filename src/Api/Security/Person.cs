using Washwear.Api.Registry;

namespace Washwear.Api.Security;

/// <summary>Somebody who may sign in.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Login">What the person signs in with; noted on records and decisions.</param>
/// <param name="Name">Name as pages show it.</param>
/// <param name="Abilities">What the person may do.</param>
/// <param name="Scope">Which part of the fleet the person sees.</param>
/// <param name="HasPassword">Whether a password was set.</param>
/// <param name="CreatedAt">Since when.</param>
/// <param name="DisabledAt">Since when the person may not sign in any more; null: the person may.</param>
public sealed record Person(
    long Id, string Login, string Name, Abilities Abilities, Scope Scope, bool HasPassword, DateTimeOffset CreatedAt, DateTimeOffset? DisabledAt)
{
    /// <summary>Most characters of a name.</summary>
    public const int MostNameCharacters = 200;

    /// <summary>Whether a text can be a name: 1 to 200 printable characters, no space at either end.</summary>
    /// <param name="name">The text.</param>
    public static bool IsName(string name) =>
        name.Length is > 0 and <= MostNameCharacters && !char.IsWhiteSpace(name[0]) && !char.IsWhiteSpace(name[^1]) && !name.Any(char.IsControl);

    // Abilities that this version does not know count for nothing, and in a scope that it cannot read nothing is seen.
    internal static Person Read(PersonRow row) => new(
        row.Id,
        row.Login,
        row.Name,
        AbilityRules.TryParse(row.Abilities, out Abilities abilities) ? abilities : Abilities.None,
        Scope.Parse(row.Scope) ?? Scope.Nothing,
        row.Password is not null,
        row.CreatedAt,
        row.DisabledAt);
}

/// <summary>What is to be known of somebody new.</summary>
/// <param name="Login">What the person will sign in with; 1 to 64 printable characters.</param>
/// <param name="Name">Name as pages show it.</param>
/// <param name="Abilities">What the person may do.</param>
/// <param name="Scope">Which part of the fleet the person sees.</param>
public sealed record NewPerson(string Login, string Name, Abilities Abilities, Scope Scope)
{
    /// <summary>Who vouches for the person, and the person's name there; null: the person's own password does.</summary>
    public (string Issuer, string Subject)? Vouched { get; init; }

    internal PersonRow Row(string? password, DateTimeOffset now) => new()
    {
        Login = Login,
        LoginKey = Codes.Key(Login),
        Name = Name,
        Password = password,
        Issuer = Vouched?.Issuer,
        Subject = Vouched?.Subject,
        Abilities = string.Join(' ', AbilityRules.Words(Abilities)),
        Scope = Scope.ToString(),
        CreatedAt = now,
    };
}

/// <summary>A change of people that cannot be done; the message says why and what to do.</summary>
/// <param name="field">What it is about.</param>
/// <param name="rule">Short name of the rule.</param>
/// <param name="message">Why not.</param>
/// <param name="mend">What to do.</param>
public sealed class PersonRefusedException(string field, string rule, string message, string mend) : Exception(message)
{
    /// <summary>What it is about.</summary>
    public string Field { get; } = field;

    /// <summary>Short name of the rule.</summary>
    public string Rule { get; } = rule;

    /// <summary>What to do.</summary>
    public string Mend { get; } = mend;
}
