namespace Washwear.Dashboard.Shell;

/// <summary>The pages in the order in which a reader asks: what needs me, how do the ovens stand, what fails, what comes, what is on record.</summary>
/// <param name="Name">The question, in two words or three.</param>
/// <param name="Pages">Its pages; the first is where its name leads.</param>
public sealed record Navigation(string Name, IReadOnlyList<NavLink> Pages)
{
    private static readonly Navigation[] ForReaders =
    [
        new("Today",
        [
            new(NavPage.Today, Urls.Today, "What needs you"),
            new(NavPage.Alerts, Urls.Alerts(), "Alerts"),
            new(NavPage.Approvals, Urls.Approvals(), "Approvals"),
            new(NavPage.Digest, Urls.Digest, "Last 24 hours"),
        ]),
        new("Kitchens and ovens",
        [
            new(NavPage.Cleaning, Urls.Cleaning(), "Cleaning"),
            new(NavPage.Sites, Urls.Sites(), "Kitchens"),
            new(NavPage.Operators, Urls.Operators(), "Operators"),
            new(NavPage.Units, Urls.Units(), "Units"),
        ]),
        new("Failures and parts",
        [
            new(NavPage.Failures, Urls.Failures(), "Failures"),
            new(NavPage.Repairs, Urls.Repairs(), "Repairs"),
            new(NavPage.PartLife, Urls.PartLife(), "Part life"),
        ]),
        new("Planning",
        [
            new(NavPage.Planning, Urls.Plan(), "Visits to plan"),
            new(NavPage.PlanParts, Urls.PlanParts(), "When to replace"),
            new(NavPage.PlanStock, Urls.PlanStock(), "Stock"),
            new(NavPage.PlanForecast, Urls.PlanForecast(), "Forecast"),
            new(NavPage.WhatIf, Urls.WhatIfRoute, "What if"),
        ]),
    ];

    private static readonly NavLink[] Installation =
    [
        new(NavPage.People, Urls.People, "People"),
        new(NavPage.Keys, Urls.Keys, "Keys"),
        new(NavPage.Upkeep, Urls.Upkeep, "Upkeep"),
        new(NavPage.Audit, Urls.AuditRoute, "Audit"),
    ];

    /// <summary>What a reader is shown: nothing that would refuse them.</summary>
    /// <param name="context">Who reads.</param>
    public static IReadOnlyList<Navigation> Of(PageContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        List<Navigation> shown = [.. ForReaders, new Navigation("Records", [.. Records(context)])];
        if (context.MayAdminister)
        {
            shown.Add(new Navigation("Installation", Installation));
        }

        return shown;
    }

    private static IEnumerable<NavLink> Records(PageContext context)
    {
        yield return new(NavPage.OnDevice, Urls.Visits, "Close-outs on this device");
        if (context.MayImport)
        {
            yield return new(NavPage.Import, Urls.Import, "Import a spreadsheet");
        }

        if (context.MayPlan)
        {
            yield return new(NavPage.Links, Urls.SharedLinks, "Shared links");
        }

        yield return new(NavPage.Reference, Urls.Reference, "API");
    }
}

/// <summary>A page that the navigation leads to.</summary>
/// <param name="Page">The page.</param>
/// <param name="Href">Its address.</param>
/// <param name="Name">What it is called there.</param>
public sealed record NavLink(NavPage Page, string Href, string Name);
