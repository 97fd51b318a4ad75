using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Accounts;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.Links;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Links;

/// <summary>A link to make.</summary>
/// <param name="Name">What it is for, 1 to 64 printable characters.</param>
/// <param name="Shows">What it shows.</param>
/// <param name="Operators">Of these operators only, by code.</param>
/// <param name="Sites">Of these sites only, by code.</param>
/// <param name="Units">Of these units only, by asset tag. At most one of the three; none: all that its maker sees.</param>
public sealed record LinkResource(
    string Name, LinkView Shows, IReadOnlyList<string>? Operators = null, IReadOnlyList<string>? Sites = null, IReadOnlyList<string>? Units = null);

/// <summary>Addresses of shared links: making, listing, revoking them. What they show is mapped where it belongs.</summary>
public static class LinkEndpoints
{
    private static readonly CsvColumn<LinkRow>[] Columns =
    [
        new("link", row => row.Id), new("name", row => row.Name), new("shows", row => Json.Name(row.Shows.ToString())), new("scope", row => row.ScopeInWords),
        new("made_by", row => row.MadeBy), new("made_at", row => row.MadeAt), new("used_at", row => row.UsedAt), new("revoked_at", row => row.RevokedAt),
    ];

    private const string Beyond = "You do not see all of what the link would show, or it names something that is not there.";

    /// <summary>Registers links.</summary>
    /// <param name="services">The services.</param>
    public static void AddLinks(this IServiceCollection services) => services.AddSingleton<ViewLinks>();

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapLinks(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/links").RequireAbility(Abilities.Plan).WithTags("Links");
        api.MapGet(string.Empty, ListAsync)
            .Produces<LinksReport>()
            .WithSummary("Links that show a calendar or a board to whoever has them")
            .WithDescription("Newest first: those whose whole scope the caller sees. Their addresses are not stored.");
        api.MapPost(string.Empty, MakeAsync)
            .Audited("link.make")
            .Accepts<LinkResource>("application/json")
            .Produces<LinkMade>(StatusCodes.Status201Created)
            .WithSummary("Make a link")
            .WithDescription(
                "The address is in the answer and nowhere else. It shows one thing, read-only, until it is revoked: calendar (the planned visits, for calendar "
                + "programs) or board (the ovens that need somebody, for a screen on a wall). Its scope is the maker's or lies within it.");
        api.MapDelete("/{id:long}", RevokeAsync)
            .Audited("link.revoke")
            .Produces(StatusCodes.Status204NoContent)
            .WithSummary("Revoke a link")
            .WithDescription("The next request with its address finds nothing.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Plan).ExcludeFromDescription();
        pages.MapGet(Urls.SharedLinks, PageAsync);
        pages.MapPost(Urls.SharedLinks, MakeByFormAsync).Audited("link.make");
        pages.MapPost(Urls.SharedLinkRevokeRoute, RevokeByFormAsync).Audited("link.revoke");
    }

    private static async Task<IResult> ListAsync(HttpContext context, ViewLinks links, CancellationToken cancellationToken) =>
        TypedResults.Ok(await ReportAsync(context, links, cancellationToken));

    private static async Task<IResult> MakeAsync(HttpContext context, ViewLinks links, Settings settings, CancellationToken cancellationToken)
    {
        (LinkResource? asked, ProblemResult? unreadable) = await JsonBody.ReadAsync<LinkResource>(context.Request, null, cancellationToken);
        if (asked is null)
        {
            return unreadable!;
        }

        (LinkMade? made, FieldProblem? wrong) = await TryMakeAsync(context, links, settings, asked, cancellationToken);
        return made is null ? Problems.Invalid([wrong!]) : TypedResults.Created((string?)null, made);
    }

    private static async Task<IResult> RevokeAsync(long id, HttpContext context, ViewLinks links, CancellationToken cancellationToken) =>
        await links.RevokeAsync(id, Authentication.ScopeOf(context.User), cancellationToken) ? TypedResults.NoContent() : NoLink(id);

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, ViewLinks links, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        return context.Request.Query["format"] == "csv"
            ? Csv.Result(context.Request, Columns, (await ReportAsync(context, links, cancellationToken)).Items)
            : pages.Of<LinksPage>(context, await PageReportAsync(context, links, page, null, null, null, cancellationToken), clock.GetUtcNow());
    }

    // The answer is the page itself: the address is shown once and must not be asked for again.
    private static async Task<IResult> MakeByFormAsync(
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        ViewLinks links,
        RegistryCache registry,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        string[] sites = form["sites"].ToString().Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        LinkView shows = form["shows"].ToString() == "calendar" ? LinkView.Calendar : LinkView.Board;

        // Whoever sees everything would else be given a link to nothing for a code that was mistyped; programs may name a site before it is registered.
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        (LinkMade? made, FieldProblem? wrong) = sites.All(snapshot.Sites.ContainsKey)
            ? await TryMakeAsync(
                context, links, settings, new LinkResource(form["name"].ToString().Trim(), shows, Sites: sites.Length == 0 ? null : sites), cancellationToken)
            : (null, new FieldProblem("scope", "beyond_own", Beyond, "Name what you see yourself."));
        LinkTyped? typed = wrong is null ? null : new LinkTyped(form["name"].ToString(), shows, form["sites"].ToString());
        return pages.Of<LinksPage>(
            context,
            await PageReportAsync(
                context, links, new PageRequest(settings.PageRows, null), made, wrong is null ? null : $"{wrong.Detail} {wrong.Mend}", typed, cancellationToken),
            clock.GetUtcNow(),
            wrong is null ? StatusCodes.Status200OK : StatusCodes.Status400BadRequest);
    }

    private static async Task<IResult> RevokeByFormAsync(
        long id, HttpContext context, IAntiforgery forms, ViewLinks links, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        if (!await links.RevokeAsync(id, Authentication.ScopeOf(context.User), cancellationToken))
        {
            return NoLink(id);
        }

        context.Response.Headers.Location = Urls.SharedLinks;
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }

    private static async Task<(LinkMade? Made, FieldProblem? Wrong)> TryMakeAsync(
        HttpContext context, ViewLinks links, Settings settings, LinkResource asked, CancellationToken cancellationToken)
    {
        if (!Codes.IsValid(asked.Name))
        {
            return (null, new("name", "text", "A link's name has 1 to 64 printable characters and no space at either end.", "Say what the link is for."));
        }

        Scope own = Authentication.ScopeOf(context.User);
        if (ScopeOf(asked, own) is not { } scope)
        {
            return (null, new(
                "scope", "codes", $"A link names operators, sites or units, one kind of them, 1 to {Scope.MostCodes} codes.", "Name one kind, or none for all that you see."));
        }

        return await links.MakeAsync(asked.Name, asked.Shows, scope, own, context.User.Identity?.Name ?? "unknown", cancellationToken) is { } made
            ? (new LinkMade(Row(made.Link), settings.PublicUrl + AddressOf(made.Link.Shows, made.Token)), null)
            : (null, new("scope", "beyond_own", Beyond, "Name what you see yourself."));
    }

    private static Scope? ScopeOf(LinkResource asked, Scope own)
    {
        (ScopeKind Kind, IReadOnlyList<string>? Codes)[] given =
        [
            .. new[] { (ScopeKind.Operators, asked.Operators), (ScopeKind.Sites, asked.Sites), (ScopeKind.Units, asked.Units) }.Where(one => one.Item2 is not null),
        ];
        return given.Length switch
        {
            0 => own,
            1 => Scope.Of(given[0].Kind, given[0].Codes!),
            _ => null,
        };
    }

    private static string AddressOf(LinkView shows, string token) =>
        (shows == LinkView.Calendar ? Urls.SharedCalendarRoute : Urls.SharedBoardRoute).Replace("{token}", token, StringComparison.Ordinal);

    private static async Task<LinksReport> ReportAsync(HttpContext context, ViewLinks links, CancellationToken cancellationToken) =>
        new([.. (await links.ListAsync(Authentication.ScopeOf(context.User), cancellationToken)).Select(Row)]);

    private static async Task<LinksPageReport> PageReportAsync(
        HttpContext context, ViewLinks links, PageRequest page, LinkMade? made, string? error, LinkTyped? typed, CancellationToken cancellationToken)
    {
        // Also where a form made the link: the page has scopes in its reader's words.
        using IDisposable reading = ReaderPreferences.Use(ReaderRequests.Of(context));
        Scope own = Authentication.ScopeOf(context.User);
        IReadOnlyList<LinkRow> all = (await ReportAsync(context, links, cancellationToken)).Items;
        PageOf<LinkRow> shown = Paging.Take(all, NewestFirst, page);
        return new LinksPageReport(new LinksReport(shown.Items), made, error, own.Kind == ScopeKind.Everything ? null : own.InWords())
        {
            Next = shown.Next,
            Good = all.Count(link => link.RevokedAt is null),
            Typed = typed,
        };
    }

    // The later a link was made, the earlier its key.
    private static string NewestFirst(LinkRow link) => (long.MaxValue - link.Id).ToString("D19", CultureInfo.InvariantCulture);

    private static LinkRow Row(ViewLink link) =>
        new(link.Id, link.Name, link.Shows, link.Scope.InWords(), link.MadeBy, link.MadeAt, link.UsedAt, link.RevokedAt);

    private static ProblemResult NoLink(long id) => Problems.NotFound("link", id.ToString(CultureInfo.InvariantCulture));
}
