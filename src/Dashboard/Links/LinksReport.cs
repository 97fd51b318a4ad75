namespace Washwear.Dashboard.Links;

/// <summary>What a link shows.</summary>
public enum LinkView
{
    /// <summary>The planned visits, for a calendar program.</summary>
    Calendar,

    /// <summary>Which ovens cannot wash or are overdue, for a screen on a wall.</summary>
    Board,
}

/// <summary>A link as it is listed; its address was shown once.</summary>
/// <param name="Id">Number.</param>
/// <param name="Name">What it is for.</param>
/// <param name="Shows">What it shows.</param>
/// <param name="ScopeInWords">Of which part of the fleet.</param>
/// <param name="MadeBy">Who made it.</param>
/// <param name="MadeAt">When.</param>
/// <param name="UsedAt">When it was last used, to within an hour; null: never.</param>
/// <param name="RevokedAt">When it was revoked; null: it is good.</param>
public sealed record LinkRow(
    long Id,
    string Name,
    LinkView Shows,
    string ScopeInWords,
    string MadeBy,
    DateTimeOffset MadeAt,
    DateTimeOffset? UsedAt,
    DateTimeOffset? RevokedAt);

/// <summary>The links that a reader may see.</summary>
/// <param name="Items">Newest first.</param>
public sealed record LinksReport(IReadOnlyList<LinkRow> Items);

/// <summary>A link that was made just now.</summary>
/// <param name="Link">The link.</param>
/// <param name="Address">Its address; it is not stored and never shown again.</param>
public sealed record LinkMade(LinkRow Link, string Address);

/// <summary>What the page of links shows.</summary>
/// <param name="Links">The links.</param>
/// <param name="Made">The one that was made just now; null: none.</param>
/// <param name="Error">Why none was made; null: nothing was wrong.</param>
/// <param name="OwnScope">What the reader sees, in words; null: everything.</param>
public sealed record LinksPageReport(LinksReport Links, LinkMade? Made, string? Error, string? OwnScope)
{
    /// <summary>Cursor of the next page; null: this is the last.</summary>
    public string? Next { get; init; }

    /// <summary>How many are good, on all pages together; null: those that are listed here are all.</summary>
    public int? Good { get; init; }

    /// <summary>What was entered and not made; null: nothing.</summary>
    public LinkTyped? Typed { get; init; }
}

/// <summary>A link that was asked for and not made, so that it can be mended instead of typed again.</summary>
/// <param name="Name">What it is for.</param>
/// <param name="Shows">What it shows.</param>
/// <param name="Sites">Codes of sites, as they were typed.</param>
public sealed record LinkTyped(string Name, LinkView Shows, string Sites);
