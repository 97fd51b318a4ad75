using System.Security.Claims;
using Washwear.Api.Security;

namespace Washwear.Api.Ingest;

/// <summary>How a request wants its rows taken in.</summary>
/// <param name="AllRows">Whether the answer names every row, not only those refused or doubted.</param>
/// <param name="AllOrNothing">Whether one refused row keeps all others out.</param>
/// <param name="KeepRefused">Whether refused rows are kept to be mended here; a form that gets them back keeps them itself. Only an
/// all-or-nothing request may say no.</param>
/// <param name="RefuseWhenFull">Whether the request is refused at its begin when too much waits to be written; else it waits.</param>
/// <param name="Bounds">What its sender is bound to; null: nothing.</param>
public sealed record IngestOptions(
    bool AllRows = false, bool AllOrNothing = false, bool KeepRefused = true, bool RefuseWhenFull = false, SenderBounds? Bounds = null);

/// <summary>What a sender is bound to who does not see the whole fleet.</summary>
/// <remarks>Under the name of another it could void or replace records that it cannot see.</remarks>
/// <param name="Scope">The units that it may send records of.</param>
/// <param name="Source">The only source that its records may name.</param>
public sealed record SenderBounds(Scope Scope, string Source)
{
    /// <summary>The bounds of a caller.</summary>
    /// <param name="caller">The caller.</param>
    /// <returns>Null: the caller sees the whole fleet.</returns>
    public static SenderBounds? Of(ClaimsPrincipal caller) =>
        Authentication.ScopeOf(caller) is { Kind: not ScopeKind.Everything } scope ? new SenderBounds(scope, caller.Identity?.Name ?? string.Empty) : null;
}
