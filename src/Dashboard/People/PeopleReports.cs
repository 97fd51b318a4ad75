namespace Washwear.Dashboard.People;

/// <summary>Which part of the fleet somebody sees.</summary>
/// <param name="Kind">everything, operators, sites or units.</param>
/// <param name="Codes">Codes of the operators or sites, or asset tags; left out for everything.</param>
public sealed record ScopeEntry(string Kind, IReadOnlyList<string>? Codes = null);

/// <summary>Somebody who may sign in.</summary>
/// <param name="Id">Number of the person.</param>
/// <param name="Login">What the person signs in with; noted on records and decisions.</param>
/// <param name="Name">Name as pages show it.</param>
/// <param name="Abilities">What the person may do: read, ingest, work, plan, manage, administer.</param>
/// <param name="Scope">Which part of the fleet the person sees.</param>
/// <param name="HasPassword">Whether a password was set.</param>
/// <param name="CreatedAt">Since when.</param>
/// <param name="DisabledAt">Since when the person may not sign in any more; null: the person may.</param>
public sealed record PersonEntry(
    long Id, string Login, string Name, IReadOnlyList<string> Abilities, ScopeEntry Scope, bool HasPassword, DateTimeOffset CreatedAt,
    DateTimeOffset? DisabledAt);

/// <summary>A browser that is signed in.</summary>
/// <param name="Id">Number of the session.</param>
/// <param name="PersonId">Number of the person; null: it was signed in with a key.</param>
/// <param name="Name">The person's login, or the key's name.</param>
/// <param name="CreatedAt">When it began.</param>
/// <param name="SeenAt">When it was last seen, to some minutes.</param>
/// <param name="Address">From which IP address it began.</param>
/// <param name="Agent">What the browser said of itself, cut.</param>
public sealed record SessionEntry(
    long Id, long? PersonId, string Name, DateTimeOffset CreatedAt, DateTimeOffset SeenAt, string Address, string Agent);

/// <summary>An invitation that nobody has taken yet.</summary>
/// <param name="Id">Number of the invitation.</param>
/// <param name="Note">Whom it is meant for.</param>
/// <param name="Abilities">What whoever takes it will be able to do.</param>
/// <param name="Scope">Which part of the fleet whoever takes it will see.</param>
/// <param name="MadeBy">Who made it.</param>
/// <param name="MadeAt">When.</param>
/// <param name="ExpiresAt">Until when it can be taken.</param>
/// <param name="Link">Where it leads; shown once, when it is made, else null.</param>
public sealed record InvitationEntry(
    long Id, string Note, IReadOnlyList<string> Abilities, ScopeEntry Scope, string MadeBy, DateTimeOffset MadeAt, DateTimeOffset ExpiresAt,
    string? Link = null);

/// <summary>A link by which a person can set a new password, once.</summary>
/// <param name="Login">Login of the person.</param>
/// <param name="ExpiresAt">Until when it can be used.</param>
/// <param name="Link">Where it leads; shown once.</param>
public sealed record PasswordLinkEntry(string Login, DateTimeOffset ExpiresAt, string Link);

/// <summary>A key of a program.</summary>
/// <param name="Name">Name: the source of the records that it sends.</param>
/// <param name="Abilities">What it may do: read, ingest, work, plan, manage, administer.</param>
/// <param name="Scope">Which part of the fleet it sees.</param>
/// <param name="CreatedAt">When it was made.</param>
/// <param name="RevokedAt">When it was revoked; null: it is good.</param>
/// <param name="Secret">The key itself; shown once, when it is made, else null.</param>
public sealed record KeyEntry(
    string Name, IReadOnlyList<string> Abilities, ScopeEntry Scope, DateTimeOffset CreatedAt, DateTimeOffset? RevokedAt, string? Secret = null);

/// <summary>What somebody entered to let another in and was not done, so that it can be mended instead of typed again.</summary>
/// <param name="Name">Name, or whom it is meant for.</param>
/// <param name="Abilities">Abilities that were chosen.</param>
/// <param name="Scope">Part of the fleet that was chosen.</param>
/// <param name="Disabled">Whether the person may not sign in.</param>
public sealed record GrantTyped(string Name, IReadOnlyList<string> Abilities, ScopeEntry Scope, bool Disabled = false);

/// <summary>What the page of people shows.</summary>
/// <param name="People">The people.</param>
/// <param name="Next">Cursor of the next page; null: this is the last.</param>
/// <param name="Invitations">Invitations that nobody has taken yet.</param>
/// <param name="Grantable">Abilities that the reader can give.</param>
/// <param name="Made">The invitation that was made just now, with its link; null: none.</param>
/// <param name="Error">Why the last change was not done; null: none was asked for, or it was done.</param>
public sealed record PeopleReport(
    IReadOnlyList<PersonEntry> People, string? Next, IReadOnlyList<InvitationEntry> Invitations, IReadOnlyList<string> Grantable, InvitationEntry? Made, string? Error)
{
    /// <summary>How many may sign in, on all pages together; null: those that are listed here are all.</summary>
    public int? MaySignIn { get; init; }

    /// <summary>What was entered and not done; null: nothing.</summary>
    public GrantTyped? Typed { get; init; }
}

/// <summary>What the page of a person shows.</summary>
/// <param name="Person">The person.</param>
/// <param name="Sessions">Where the person is signed in.</param>
/// <param name="Grantable">Abilities that the reader can give.</param>
/// <param name="Made">A link to set a new password that was made just now; null: none.</param>
/// <param name="Error">Why the last change was not done; null: none was asked for, or it was done.</param>
public sealed record PersonReport(
    PersonEntry Person, IReadOnlyList<SessionEntry> Sessions, IReadOnlyList<string> Grantable, PasswordLinkEntry? Made, string? Error)
{
    /// <summary>What was entered and not done; null: nothing.</summary>
    public GrantTyped? Typed { get; init; }
}

/// <summary>What the page of keys shows.</summary>
/// <param name="Keys">The keys, good ones first.</param>
/// <param name="Grantable">Abilities that the reader can give.</param>
/// <param name="Made">The key that was made just now, with its secret; null: none.</param>
/// <param name="Error">Why the last change was not done; null: none was asked for, or it was done.</param>
public sealed record KeysReport(IReadOnlyList<KeyEntry> Keys, IReadOnlyList<string> Grantable, KeyEntry? Made, string? Error)
{
    /// <summary>Cursor of the next page; null: this is the last.</summary>
    public string? Next { get; init; }

    /// <summary>How many are good, on all pages together; null: those that are listed here are all.</summary>
    public int? Good { get; init; }

    /// <summary>What was entered and not done; null: nothing.</summary>
    public GrantTyped? Typed { get; init; }
}
