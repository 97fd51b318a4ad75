using Microsoft.AspNetCore.Mvc;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;

namespace Washwear.Api.Timeline;

/// <summary>Addresses of timelines: of a unit, a kitchen, an operator.</summary>
public static class TimelineEndpoints
{
    private const int CursorParts = 2;
    private const int RecordsOnAPage = 80;

    /// <summary>Registers timelines.</summary>
    /// <param name="services">The services.</param>
    public static void AddTimeline(this IServiceCollection services)
    {
        services.AddPerScope<TimelineQueries>();
        services.AddPerScope<TimelineReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapTimeline(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder data = routes.MapGroup("/v1").RequireAbility(Abilities.Read).WithTags("Timelines");
        Describe(data.MapGet(Urls.UnitTimelineRoute, (string unit, [AsParameters] Asked asked) => DataAsync(TimelineSubject.Unit, unit, asked)), "a unit");
        Describe(data.MapGet(Urls.SiteTimelineRoute, (string site, [AsParameters] Asked asked) => DataAsync(TimelineSubject.Site, site, asked)), "a site");
        Describe(
            data.MapGet(Urls.OperatorTimelineRoute, (string @operator, [AsParameters] Asked asked) => DataAsync(TimelineSubject.Operator, @operator, asked)), "an operator");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet(Urls.UnitTimelineRoute, (string unit, [AsParameters] Asked asked) => PageAsync(TimelineSubject.Unit, unit, asked));
        pages.MapGet(Urls.SiteTimelineRoute, (string site, [AsParameters] Asked asked) => PageAsync(TimelineSubject.Site, site, asked));
        pages.MapGet(Urls.OperatorTimelineRoute, (string @operator, [AsParameters] Asked asked) => PageAsync(TimelineSubject.Operator, @operator, asked));
    }

    private static void Describe(RouteHandlerBuilder route, string whose) => route
        .ProducesList<TimelineReport>()
        .WithSummary("What happened, newest first, as a person would tell it: of " + whose)
        .WithDescription(
            "Days with their entries. A lockout is one entry, from the fault through visits, approvals and parts to the first wash after it; ordinary washes in "
            + "a row are one entry; every entry names its records. ?kinds names the kinds wanted, separated by commas; ?limit is about how many records are "
            + "read into a page, which ends between two stories where it can; ?after goes further back. As CSV: one row a record.");

    private static async Task<IResult> DataAsync(TimelineSubject subject, string code, Asked asked)
    {
        if (Read(asked.Context, asked.Settings, out PageRequest page, out IReadOnlyList<TimelineKind>? kinds) is { } problem)
        {
            return problem;
        }

        return await asked.Reports.AssembleAsync(subject, code, kinds, page, asked.Clock.GetUtcNow(), asked.Cancelled) is { } report
            ? Formats.Report(asked.Context, report, TimelineColumns.RowsOf(report), report.Next, TimelineColumns.All)
            : NotFound(subject, code);
    }

    private static async Task<IResult> PageAsync(TimelineSubject subject, string code, Asked asked)
    {
        if (Read(asked.Context, asked.Settings, out PageRequest page, out IReadOnlyList<TimelineKind>? kinds) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = asked.Clock.GetUtcNow();
        return await asked.Reports.AssembleAsync(subject, code, kinds, page, now, asked.Cancelled) is { } report
            ? asked.Pages.Of<TimelinePage>(asked.Context, report, now)
            : NotFound(subject, code);
    }

    private static ProblemResult NotFound(TimelineSubject subject, string code) => Problems.NotFound(Json.Name(subject.ToString()), code);

    private static ProblemResult? Read(HttpContext context, Settings settings, out PageRequest page, out IReadOnlyList<TimelineKind>? kinds)
    {
        kinds = null;
        if (Paging.Read(context.Request, settings, CursorParts, out page) is { } problem)
        {
            return problem;
        }

        page = page with { Limit = context.Request.Query.ContainsKey("limit") ? page.Limit : RecordsOnAPage };
        string[] words = context.Request.Query["kinds"].ToString().Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        Dictionary<string, TimelineKind> known = TimelineWords.Kinds.ToDictionary(Urls.KindCode, StringComparer.OrdinalIgnoreCase);
        if (words.FirstOrDefault(word => !known.ContainsKey(word)) is { } unknown)
        {
            return Problems.Invalid("kinds", "choice", $"'{unknown}' is none of the kinds.", "Give some of: " + string.Join(", ", known.Keys) + ".");
        }

        kinds = words.Length == 0 ? null : [.. TimelineWords.Kinds.Where(kind => words.Any(word => known[word] == kind))];
        return null;
    }

    /// <summary>What every handler here takes.</summary>
    internal readonly record struct Asked(
        HttpContext Context,
        [property: FromServices] Pages Pages,
        [property: FromServices] TimelineReports Reports,
        [property: FromServices] Settings Settings,
        [property: FromServices] TimeProvider Clock,
        CancellationToken Cancelled);
}
