using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Search;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Search;

/// <summary>Addresses of search.</summary>
public static class SearchEndpoints
{
    private const int UsualHits = 10;
    private const int MostHits = 50;
    private const int HitsOfAGroup = 6;

    /// <summary>Registers search.</summary>
    /// <param name="services">The services.</param>
    public static void AddSearch(this IServiceCollection services)
    {
        services.AddPerScope<SearchQueries>();
        services.AddPerScope<SearchStates>();
        services.AddPerScope<SearchReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapSearch(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/search", ReportAsync).RequireAbility(Abilities.Read).WithTags("Search")
            .Produces<SearchReport>()
            .WithSummary("Finds units, kitchens, operators, faults, positions, part numbers and visits")
            .WithDescription(
                "By part of a code, serial number, name or text, without case and accents; spaces and dashes in codes make no difference; visits by how "
                + "their key begins. Each hit says why it matches and how it stands. goes_to is the page of the one thing that is meant exactly.");
        routes.MapGet(Urls.SearchRoute, PageAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static async Task<IResult> ReportAsync(HttpContext context, SearchReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        string text = TextOf(query);
        SearchKind? kind = query.Word<SearchKind>("kind");
        int limit = query.Whole("limit", UsualHits, 1, MostHits);
        if (text.Length == 0)
        {
            query.Refuse("q", "missing", "Nobody said what to search for.", "Give ?q= with part of a code or name.");
        }

        return query.Problem is { } problem
            ? problem
            : TypedResults.Ok(await reports.AssembleAsync(text, kind, limit, clock.GetUtcNow(), cancellationToken));
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, SearchReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        var query = new Query(context.Request.Query);
        string text = TextOf(query);
        SearchKind? kind = query.Word<SearchKind>("kind");
        if (query.Problem is { } problem)
        {
            return problem;
        }

        SearchReport report = await reports.AssembleAsync(text, kind, kind is null ? HitsOfAGroup : MostHits, now, cancellationToken);
        return report.GoesTo is { } address && kind is null ? Results.Redirect(address) : pages.Of<SearchPage>(context, report, now);
    }

    private static string TextOf(Query query)
    {
        string text = query.Text("q") ?? string.Empty;
        if (text.Length > SearchReports.MostCharacters)
        {
            query.Refuse("q", "length", "What is searched for is longer than 100 characters.", "Give fewer characters; part of a code or name is enough.");
        }

        return text;
    }
}
