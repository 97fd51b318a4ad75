using Washwear.Dashboard.People;

namespace Washwear.Api.Accounts;

/// <summary>A person as somebody changes it.</summary>
/// <param name="Name">Name as pages show it; left out: it stays.</param>
/// <param name="Abilities">What the person may do: read, ingest, work, plan, manage, administer.</param>
/// <param name="Scope">Which part of the fleet the person sees; left out: everything.</param>
/// <param name="Disabled">Whether the person may not sign in any more; left out: the person may.</param>
public sealed record PersonResource(string? Name, IReadOnlyList<string> Abilities, ScopeEntry? Scope, bool? Disabled);

/// <summary>An invitation as somebody asks for it.</summary>
/// <param name="Note">Whom it is meant for, up to 200 characters; left out: not told.</param>
/// <param name="Abilities">What whoever takes it will be able to do: read, ingest, work, plan, manage, administer.</param>
/// <param name="Scope">Which part of the fleet whoever takes it will see; left out: everything.</param>
public sealed record InvitationResource(string? Note, IReadOnlyList<string> Abilities, ScopeEntry? Scope);

/// <summary>A key as somebody asks for it.</summary>
/// <param name="Name">Name: the source of the records that it sends; 1 to 64 printable characters, not used before.</param>
/// <param name="Abilities">What it may do: read, ingest, work, plan, manage, administer.</param>
/// <param name="Scope">Which part of the fleet it sees; left out: everything.</param>
public sealed record KeyResource(string Name, IReadOnlyList<string> Abilities, ScopeEntry? Scope);
