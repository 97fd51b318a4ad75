using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Repairs;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Approvals;

/// <summary>Addresses of approvals.</summary>
public static class ApprovalEndpoints
{
    private const int OpenOnAPage = 50;
    private const int DecidedOnAPage = 25;

    /// <summary>The word that asks for approvals of any state.</summary>
    private const string All = "all";

    /// <summary>Words for the state asked for.</summary>
    internal static readonly string[] StateWords = [.. Enum.GetNames<ApprovalState>().Select(Json.Name), All];

    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddApprovals(this IServiceCollection services)
    {
        services.AddPerScope<ApprovalQueries>();
        services.AddPerScope<ApprovalDecisions>();
        services.AddPerScope<WaitingCosts>();
        services.AddPerScope<ApprovalReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapApprovals(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/approvals", ListAsync)
            .RequireAbility(Abilities.Read)
            .WithTags("Approvals")
            .ProducesList<ApprovalsReport>()
            .WithSummary("Approvals, by what waiting costs")
            .WithDescription(
                "Open ones first, the dearest wait first: days without a wash so far and in the coming week, whether the kitchen has another oven that can "
                + "wash, the chance that companions of the part fail meanwhile. Decided ones after them, newest first, with what the wait cost. "
                + "Narrow with ?state (open), ?operator, ?site, ?unit; page with ?limit and ?after.");
        routes.MapPost("/v1/approvals/{id:long}/decision", DecideAsync)
            .Audited("approval.decide")
            .RequireAbility(Abilities.Work)
            .WithTags("Approvals")
            .Accepts<DecisionResource>("application/json")
            .Produces<ApprovalRow>()
            .WithSummary("Grant or refuse an approval")
            .WithDescription(
                "Takes in a record that replaces the one that asked, under its source and the key decision-on-NUMBER, as if it had been sent to /v1/records. "
                + "409 when it was decided already (by whom and when), corrected or withdrawn meanwhile.");
        routes.MapGet(Urls.ApprovalsRoute, PageAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
        routes.MapPost(Urls.ApprovalDecisionRoute, DecideByFormAsync).Audited("approval.decide").RequireAbility(Abilities.Work).ExcludeFromDescription();
    }

    private static async Task<IResult> ListAsync(
        HttpContext context, ApprovalReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        ApprovalFilter filter = Filter(query);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, ApprovalReports.CursorParts, out page)) is { } problem)
        {
            return problem;
        }

        ApprovalsReport report = await reports.AssembleAsync(filter, page, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, report.Next, ApprovalColumns.Rows);
    }

    private static async Task<IResult> DecideAsync(
        long id, HttpContext context, ApprovalDecisions decisions, ApprovalReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (DecisionResource? decision, ProblemResult? unreadable) =
            await JsonBody.ReadAsync<DecisionResource>(context.Request, null, cancellationToken);
        if (decision is null)
        {
            return unreadable!;
        }

        (long? seq, ProblemResult? problem) = await decisions.DecideAsync(id, decision, Reader(context), cancellationToken);
        return problem is not null ? problem : TypedResults.Ok(await reports.AssembleOneAsync(seq!.Value, clock.GetUtcNow(), cancellationToken));
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, ApprovalReports reports, DelayReports delays, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        ApprovalFilter filter = new(ApprovalState.Open, query.Text("operator"), query.Text("site"), query.Text("unit"));
        if (query.Problem is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        ApprovalsReport open = await reports.AssembleAsync(filter, new PageRequest(OpenOnAPage, null), now, cancellationToken);
        ApprovalsReport decided = await reports.AssembleDecidedAsync(filter, DecidedOnAPage, now, cancellationToken);
        CleaningFilter place = CleaningFilter.All with { Operator = filter.Operator, Site = filter.Site, Unit = filter.Unit };
        long? done = long.TryParse(query.Text("decided"), NumberStyles.None, CultureInfo.InvariantCulture, out long number) ? number : null;
        return pages.Of<ApprovalsPage>(
            context,
            new ApprovalsPageReport(
                open,
                decided,
                await delays.AssembleAsync(place, "operator", DelayReports.UsualDays, now, cancellationToken),
                filter,
                context.User.May(Abilities.Work),
                done is { } seq && await reports.AssembleOneAsync(seq, now, cancellationToken) is { State: not ApprovalState.Open } row ? row : null),
            now);
    }

    // 303: the browser goes on to the list by GET.
    private static async Task<IResult> DecideByFormAsync(
        long id, HttpContext context, IAntiforgery forms, ApprovalDecisions decisions, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        if (form["decision"].ToString() is not ("granted" or "refused"))
        {
            return Problems.Invalid("decision", "choice", "The form says neither granted nor refused.", "Press one of the two buttons.");
        }

        DecisionWord word = form["decision"] == "granted" ? DecisionWord.Granted : DecisionWord.Refused;
        (long? seq, ProblemResult? problem) = await decisions.DecideAsync(
            id, new DecisionResource(word, form["by"].ToString(), form["note"].ToString()), Reader(context), cancellationToken);
        if (problem is not null)
        {
            return problem;
        }

        context.Response.Headers.Location = Urls.Approvals(decided: seq);
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }

    private static ApprovalFilter Filter(Query query)
    {
        string word = query.OneOf("state", StateWords) ?? StateWords[0];
        ApprovalState? state = word == All ? null : Enum.GetValues<ApprovalState>().First(one => Json.Name(one.ToString()) == word);
        return new ApprovalFilter(state, query.Text("operator"), query.Text("site"), query.Text("unit"));
    }

    private static string Reader(HttpContext context) => context.User.Identity?.Name ?? "unknown";
}
