using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Account;

/// <summary>Texts of the page of one's own account: Account.en.json and its fellows. A name is the text's key.</summary>
public sealed record AccountTexts
{
    /// <summary>The files.</summary>
    public static TextFile<AccountTexts> File { get; } = new("Account");

    /// <summary>The texts in the language of the present reader.</summary>
    public static AccountTexts Now => File.Now;

    /// <summary>Title and kicker.</summary>
    public required string YourAccount { get; init; }

    /// <summary>Follows the reader's name; by the number of sessions.</summary>
    public required PluralText SignedIn { get; init; }

    /// <summary>Before the login.</summary>
    public required string LoginIs { get; init; }

    /// <summary>Before the name of the key.</summary>
    public required string KeyIs { get; init; }

    /// <summary>Link.</summary>
    public required string People { get; init; }

    /// <summary>Link.</summary>
    public required string Keys { get; init; }

    /// <summary>Before the reason.</summary>
    public required string NotChanged { get; init; }

    /// <summary>What was done just now.</summary>
    public required IReadOnlyDictionary<AccountDone, string> Done { get; init; }

    /// <summary>Heading.</summary>
    public required string Reading { get; init; }

    /// <summary>Where a person's choice is kept.</summary>
    public required string KeptWithAccount { get; init; }

    /// <summary>Where the choice is kept of somebody with a key.</summary>
    public required string KeptInBrowser { get; init; }

    /// <summary>What the choice does.</summary>
    public required string Shapes { get; init; }

    /// <summary>Labels by field.</summary>
    public required IReadOnlyDictionary<string, string> Fields { get; init; }

    /// <summary>What holds if nothing is chosen, by field.</summary>
    public required IReadOnlyDictionary<string, string> Usual { get; init; }

    /// <summary>What can be chosen, by field and code.</summary>
    public required IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> Choices { get; init; }

    /// <summary>What is there in other languages.</summary>
    public required string LanguagesNote { get; init; }

    /// <summary>Label of the time zone.</summary>
    public required string Times { get; init; }

    /// <summary>Note below it.</summary>
    public required string TimesNote { get; init; }

    /// <summary>Button.</summary>
    public required string Keep { get; init; }

    /// <summary>Heading.</summary>
    public required string WhereSignedIn { get; init; }

    /// <summary>Button.</summary>
    public required string SignOutElsewhere { get; init; }

    /// <summary>Caption.</summary>
    public required string Sessions { get; init; }

    /// <summary>Head of a column.</summary>
    public required string Device { get; init; }

    /// <summary>Head of a column.</summary>
    public required string Since { get; init; }

    /// <summary>Head of a column.</summary>
    public required string LastUsed { get; init; }

    /// <summary>Head of a column.</summary>
    public required string EndIt { get; init; }

    /// <summary>The session that reads.</summary>
    public required string ThisOne { get; init; }

    /// <summary>The address on the network from which somebody signed in.</summary>
    public required string From { get; init; }

    /// <summary>What somebody is signed in with.</summary>
    public required IReadOnlyDictionary<SessionDevice, string> Devices { get; init; }

    /// <summary>Button.</summary>
    public required string SignOut { get; init; }

    /// <summary>Which session a button ends; {number} is its number.</summary>
    public required string Session { get; init; }

    /// <summary>Heading.</summary>
    public required string Password { get; init; }

    /// <summary>Label.</summary>
    public required string PresentPassword { get; init; }

    /// <summary>Label.</summary>
    public required string NewPassword { get; init; }

    /// <summary>Note; {count} is the fewest characters.</summary>
    public required string PasswordRule { get; init; }

    /// <summary>Button.</summary>
    public required string ChangeThePassword { get; init; }
}
