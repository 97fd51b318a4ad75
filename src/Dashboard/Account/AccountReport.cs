using Washwear.Dashboard.People;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.SignIn;

namespace Washwear.Dashboard.Account;

/// <summary>What somebody did just now with the own account.</summary>
public enum AccountDone
{
    /// <summary>Another password.</summary>
    Password,

    /// <summary>Another way of reading.</summary>
    Preferences,

    /// <summary>The same, but for what cannot be chosen.</summary>
    SomePreferences,
}

/// <summary>What the page of one's own account shows.</summary>
/// <param name="Login">The reader's login, or the name of the key.</param>
/// <param name="Name">Name as pages show it.</param>
/// <param name="IsPerson">Whether the reader has a password; else a key was used.</param>
/// <param name="MayAdminister">Whether the reader may let others in.</param>
/// <param name="Sessions">The reader's sessions.</param>
/// <param name="Current">Number of the session that reads.</param>
/// <param name="FewestCharacters">Fewest characters of a password.</param>
/// <param name="Trouble">Why the last change was not done; null: none was asked for, or it was done.</param>
/// <param name="Done">What was done just now; null: nothing.</param>
public sealed record AccountReport(
    string Login, string Name, bool IsPerson, bool MayAdminister, IReadOnlyList<SessionEntry> Sessions, long Current, int FewestCharacters,
    JoinTrouble? Trouble, AccountDone? Done)
{
    /// <summary>How the reader has chosen to read.</summary>
    public PreferenceChoice Chosen { get; init; } = PreferenceChoice.None;
}

/// <summary>How somebody likes to read.</summary>
/// <param name="Chosen">What was chosen; fields that were not are left out.</param>
/// <param name="Holds">What holds, with the browser's languages and the usual where nothing was chosen.</param>
/// <param name="KeptWith">person, or browser where somebody signed in with a key.</param>
public sealed record PreferencesReport(PreferenceChoice Chosen, PreferenceChoice Holds, string KeptWith);
