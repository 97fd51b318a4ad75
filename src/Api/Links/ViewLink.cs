using Washwear.Api.Security;
using Washwear.Dashboard.Links;

namespace Washwear.Api.Links;

/// <summary>An address that shows one thing to whoever has it, until it is revoked.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Name">What it is for, in the words of whoever made it.</param>
/// <param name="Shows">What it shows.</param>
/// <param name="Scope">Of which part of the fleet.</param>
/// <param name="MadeBy">Name of whoever made it.</param>
/// <param name="MadeAt">When.</param>
/// <param name="UsedAt">When it was last used, to within an hour; null: never.</param>
/// <param name="RevokedAt">When it was revoked; null: it is good.</param>
internal sealed record ViewLink(
    long Id, string Name, LinkView Shows, Scope Scope, string MadeBy, DateTimeOffset MadeAt, DateTimeOffset? UsedAt, DateTimeOffset? RevokedAt);
