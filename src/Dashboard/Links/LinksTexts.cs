using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Links;

/// <summary>Texts of the page of shared links.</summary>
internal sealed record LinksTexts
{
    internal static TextFile<LinksTexts> File { get; } = new("Links");

    internal static LinksTexts Now => File.Now;

    public required string SharedLinks { get; init; }
    public required string NobodySees { get; init; }
    public required PluralText LinksShow { get; init; }
    public required MadeTexts Made { get; init; }
    public required FormTexts Form { get; init; }
    public required ListTexts List { get; init; }
}

internal sealed record MadeTexts
{
    public required string CopyNow { get; init; }
    public required IReadOnlyDictionary<LinkView, string> ShownOnce { get; init; }
    public required IReadOnlyDictionary<LinkView, string> UseIt { get; init; }
}

internal sealed record FormTexts
{
    public required string NewLink { get; init; }
    public required string NotMade { get; init; }
    public required string Name { get; init; }
    public required string SuchAs { get; init; }
    public required string ItShows { get; init; }
    public required IReadOnlyDictionary<LinkView, string> Views { get; init; }
    public required string Sites { get; init; }
    public required string SitesAll { get; init; }
    public required string SitesOwn { get; init; }
    public required string Make { get; init; }
}

internal sealed record ListTexts
{
    public required string Links { get; init; }
    public required string None { get; init; }
    public required string Caption { get; init; }
    public required string Name { get; init; }
    public required string Shows { get; init; }
    public required string Of { get; init; }
    public required string MadeAt { get; init; }
    public required string By { get; init; }
    public required string LastUsed { get; init; }
    public required string Never { get; init; }
    public required string Good { get; init; }
    public required string State { get; init; }
    public required IReadOnlyDictionary<LinkView, string> Views { get; init; }
    public required string Revoked { get; init; }
    public required string Revoke { get; init; }
    public required string RevokeFor { get; init; }
}
