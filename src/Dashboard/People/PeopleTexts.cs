using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.People;

/// <summary>Texts of the pages of people and keys.</summary>
internal sealed record PeopleTexts
{
    internal static TextFile<PeopleTexts> File { get; } = new("People");

    internal static PeopleTexts Now => File.Now;

    public required string People { get; init; }
    public required string Keys { get; init; }
    public required string NotDone { get; init; }
    public required string May { get; init; }
    public required string Sees { get; init; }
    public required string Somebody { get; init; }
    public required IReadOnlyDictionary<string, string> Abilities { get; init; }
    public required IReadOnlyDictionary<string, string> AbilitiesShort { get; init; }
    public required IReadOnlyDictionary<string, string> Scopes { get; init; }
    public required IReadOnlyDictionary<string, string> ScopeChoices { get; init; }
    public required string Codes { get; init; }
    public required IReadOnlyDictionary<string, string> States { get; init; }
    public required ListTexts List { get; init; }
    public required InviteTexts Invite { get; init; }
    public required PersonTexts Person { get; init; }
    public required KeyPageTexts KeyPage { get; init; }
}

internal sealed record ListTexts
{
    public required string NobodyYet { get; init; }
    public required PluralText MaySignIn { get; init; }
    public required string ByLogin { get; init; }
    public required string Who { get; init; }
    public required string State { get; init; }
    public required string None { get; init; }
}

internal sealed record InviteTexts
{
    public required string Heading { get; init; }
    public required string Note { get; init; }
    public required string Make { get; init; }
    public required string SendTo { get; init; }
    public required string WhomYouInvite { get; init; }
    public required string GoodOnce { get; init; }
    public required string NotTaken { get; init; }
    public required string NotTakenOne { get; init; }
    public required string TakeBack { get; init; }
    public required string OfNote { get; init; }
}

internal sealed record PersonTexts
{
    public required string LoginSince { get; init; }
    public required string SendTo { get; init; }
    public required string NewPassword { get; init; }
    public required string NotChanged { get; init; }
    public required string Name { get; init; }
    public required string MayNotSignIn { get; init; }
    public required string Save { get; init; }
    public required string MakeLink { get; init; }
    public required string SignedIn { get; init; }
    public required string Nowhere { get; init; }
}

internal sealed record KeyPageTexts
{
    public required PluralText GoodKeys { get; init; }
    public required string Good { get; init; }
    public required string ShownOnce { get; init; }
    public required string GoodFirst { get; init; }
    public required string Name { get; init; }
    public required string Since { get; init; }
    public required string Revoke { get; init; }
    public required string Revoked { get; init; }
    public required string MakeAKey { get; init; }
    public required string NameLabel { get; init; }
    public required string Make { get; init; }
}
