using Washwear.Api.Accounts;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Help;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Help;

/// <summary>The page that shows a reader where to begin.</summary>
public static class HelpEndpoints
{
    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapHelp(this IEndpointRouteBuilder routes) =>
        routes.MapGet(Urls.Help, Page).RequireAbility(Abilities.Read).ExcludeFromDescription();

    private static IResult Page(HttpContext context, Pages pages, TimeProvider clock) =>
        pages.Of<HelpPage>(context, HelpReport.For(ReaderRequests.Of(context).Role), clock.GetUtcNow());
}
