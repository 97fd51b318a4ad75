using Washwear.Dashboard.Links;

namespace Washwear.Dashboard.Tests.Links;

/// <summary>Reports of shared links, invented.</summary>
internal static class LinkSamples
{
    private static readonly LinkRow Office = new(
        7, "Office screen", LinkView.Board, "sites SITE-7", "Morning desk", Samples.AsOf.AddDays(-3), Samples.AsOf.AddHours(-1), null);

    private static readonly LinkRow Old = new(
        3, "Van calendar", LinkView.Calendar, "everything", "Planner", Samples.AsOf.AddDays(-90), null, Samples.AsOf.AddDays(-4));

    public static LinksPageReport Made { get; } = new(
        new LinksReport([Office, Old]), new LinkMade(Office, "https://washwear.example/shared/invented-token/board"), null, null);

    public static LinksPageReport Refused { get; } = new(new LinksReport([Old]), null, "You do not see all of that.", "sites SITE-7");

    public static LinksPageReport Empty { get; } = new(new LinksReport([]), null, null, null);

    public static LinksPageReport Hostile { get; } = new(
        new LinksReport([Office with { Id = long.MaxValue, Name = Tests.Hostile.Name, ScopeInWords = Tests.Hostile.LongName, MadeBy = Tests.Hostile.Name }]),
        new LinkMade(Old with { Name = Tests.Hostile.Name }, Tests.Hostile.Name),
        Tests.Hostile.Name,
        Tests.Hostile.Name);
}
