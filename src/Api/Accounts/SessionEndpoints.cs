using System.Globalization;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.People;

namespace Washwear.Api.Accounts;

/// <summary>Sign-ins of all over HTTP, for administrators.</summary>
internal static class SessionEndpoints
{
    private static readonly CsvColumn<SessionEntry>[] Columns =
    [
        new("id", row => row.Id), new("person_id", row => row.PersonId), new("name", row => row.Name), new("created_at", row => row.CreatedAt),
        new("seen_at", row => row.SeenAt), new("address", row => row.Address), new("agent", row => row.Agent),
    ];

    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder sessions = routes.MapGroup("/v1/sessions").RequireAbility(Abilities.Administer).WithTags("Sessions");
        sessions.MapGet(string.Empty, ListAsync).ProducesList<PageOf<SessionEntry>>().WithSummary("List sessions")
            .WithDescription("Browsers that are signed in now, by when they signed in; last seen to some minutes.");
        sessions.MapDelete("/{id:long}", EndAsync).Audited("session.revoke").Produces(StatusCodes.Status204NoContent).WithSummary("End a session")
            .WithDescription("At once on this node, within five seconds on others.");
    }

    private static async Task<IResult> ListAsync(HttpContext context, Sessions sessions, Settings settings, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IEnumerable<SessionEntry> rows = (await sessions.ListAsync(null, null, cancellationToken)).Select(Entries.Of);
        return Formats.List(context, Paging.Take(rows, row => row.Id.ToString("D19", CultureInfo.InvariantCulture), page), Columns);
    }

    private static async Task<IResult> EndAsync(long id, Sessions sessions, CancellationToken cancellationToken) =>
        await sessions.EndAsync(id, cancellationToken)
            ? TypedResults.NoContent()
            : Problems.Status(StatusCodes.Status404NotFound, $"There is no session number {id}; it may have ended by itself.");
}
