namespace Washwear.Dashboard.Shell;

/// <summary>The pages in the order in which a reader asks: what needs me, how do the ovens stand, what fails, what comes, what is on record.</summary>
/// <param name="Name">The question, in two words or three.</param>
/// <param name="Pages">Its pages; the first is where its name leads.</param>
public sealed record Navigation(string Name, IReadOnlyList<NavLink> Pages)
{
    /// <summary>What a reader is shown: nothing that would refuse them.</summary>
    /// <param name="context">Who reads.</param>
    public static IReadOnlyList<Navigation> Of(PageContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        NavigationTexts texts = ShellTexts.Now.Navigation;
        List<Navigation> shown = [.. ForReaders(texts), new Navigation(texts.Records, [.. Records(context, texts)])];
        if (context.MayAdminister)
        {
            shown.Add(new Navigation(texts.Installation, Installation(texts)));
        }

        return shown;
    }

    private static Navigation[] ForReaders(NavigationTexts texts) =>
    [
        new(texts.Today,
        [
            new(NavPage.Today, Urls.Today, texts.WhatNeedsYou),
            new(NavPage.Alerts, Urls.Alerts(), texts.Alerts),
            new(NavPage.Approvals, Urls.Approvals(), texts.Approvals),
            new(NavPage.Digest, Urls.Digest, texts.Digest),
        ]),
        new(texts.KitchensAndOvens,
        [
            new(NavPage.Cleaning, Urls.Cleaning(), texts.Cleaning),
            new(NavPage.Sites, Urls.Sites(), texts.Kitchens),
            new(NavPage.Operators, Urls.Operators(), texts.Operators),
            new(NavPage.Units, Urls.Units(), texts.Units),
        ]),
        new(texts.FailuresAndParts,
        [
            new(NavPage.Failures, Urls.Failures(), texts.Failures),
            new(NavPage.Repairs, Urls.Repairs(), texts.Repairs),
            new(NavPage.PartLife, Urls.PartLife(), texts.PartLife),
        ]),
        new(texts.Planning,
        [
            new(NavPage.Planning, Urls.Plan(), texts.VisitsToPlan),
            new(NavPage.PlanParts, Urls.PlanParts(), texts.WhenToReplace),
            new(NavPage.PlanStock, Urls.PlanStock(), texts.Stock),
            new(NavPage.PlanForecast, Urls.PlanForecast(), texts.Forecast),
            new(NavPage.WhatIf, Urls.WhatIfRoute, texts.WhatIf),
        ]),
    ];

    private static NavLink[] Installation(NavigationTexts texts) =>
    [
        new(NavPage.People, Urls.People, texts.People),
        new(NavPage.Keys, Urls.Keys, texts.Keys),
        new(NavPage.Upkeep, Urls.Upkeep, texts.Upkeep),
        new(NavPage.Audit, Urls.AuditRoute, texts.Audit),
    ];

    private static IEnumerable<NavLink> Records(PageContext context, NavigationTexts texts)
    {
        yield return new(NavPage.OnDevice, Urls.Visits, texts.OnDevice);
        if (context.MayImport)
        {
            yield return new(NavPage.Import, Urls.Import, texts.Import);
        }

        if (context.MayPlan)
        {
            yield return new(NavPage.Links, Urls.SharedLinks, texts.Links);
        }

        yield return new(NavPage.Reference, Urls.Reference, texts.Api);
    }
}

/// <summary>A page that the navigation leads to.</summary>
/// <param name="Page">The page.</param>
/// <param name="Href">Its address.</param>
/// <param name="Name">What it is called there.</param>
public sealed record NavLink(NavPage Page, string Href, string Name);
