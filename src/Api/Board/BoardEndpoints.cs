using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Board;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Board;

/// <summary>Addresses of the screen on a wall: for who has signed in, and by a shared link.</summary>
public static class BoardEndpoints
{
    private const int Rows = 12;

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapBoard(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet(Urls.Board, PageAsync);
        pages.MapGet(Urls.SharedBoardRoute, PageAsync);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, CleaningReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        (CleaningStatusReport needing, int more) = await reports.AssembleNeedingAsync(now, Rows, cancellationToken);
        return pages.Of<BoardPage>(context, new BoardReport(needing, more), now);
    }
}
