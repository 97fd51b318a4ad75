using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Accounts;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Api.VisitSheets;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;
using Washwear.Dashboard.Visits;

namespace Washwear.Api.Visits;

/// <summary>Addresses of visits: the form that closes one, its receipt, what a phone needs to send it later.</summary>
public static class VisitEndpoints
{
    /// <summary>Registers visits.</summary>
    /// <param name="services">The services.</param>
    public static void AddVisits(this IServiceCollection services)
    {
        services.AddPerScope<VisitQueries>();
        services.AddPerScope<VisitReports>();
        services.AddPerScope<CheckSequence>();
        services.AddPerScope<CloseOutReports>();
        services.AddPerScope<CloseOuts>();
        services.AddPerScope<VisitAsks>();
        services.AddPerScope<PhotoQueries>();
        services.AddPerScope<PhotoUploads>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapVisits(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet(Urls.Visits, OnDevice);
        pages.MapGet(Urls.CloseOutRoute, FormAsync);
        pages.MapGet(Urls.FormTokenRoute, Token);
        pages.MapGet(Urls.VisitRoute, ReceiptAsync);
        RouteGroupBuilder send = routes.MapGroup(string.Empty).RequireAbility(Abilities.Work).ExcludeFromDescription();
        send.MapPost(Urls.CloseOutRoute, SaveAsync).Audited("visit.close");
        send.MapPost(Urls.VisitWithdrawalRoute, WithdrawAsync).Audited("visit.withdraw");
        routes.MapGroup("/v1/visits/{key}").RequireAbility(Abilities.Read).WithTags("Visits")
            .MapGet(string.Empty, ReportAsync)
            .Produces<VisitReport>()
            .WithSummary("One visit: what was recorded, what follows, what speaks against it")
            .WithDescription(
                "By its key; ?source tells visits of several senders with the same key apart. basis.doubts names other visits at the same time, and "
                + "washes of the unit that contradict the proofs. Parts are those sent with a close-out, under keys that begin with the visit's.");
        PhotoEndpoints.Map(routes);
        VisitAskEndpoints.Map(routes);
    }

    /// <summary>The source that a request names; null: none.</summary>
    /// <param name="context">The request.</param>
    internal static string? SourceOf(HttpContext context) => new Query(context.Request.Query).Text("source");

    private static IResult OnDevice(HttpContext context, Pages pages, TimeProvider clock) =>
        pages.Of<OnDevicePage>(context, new OnDeviceReport(context.User.Identity?.Name), clock.GetUtcNow());

    /// <summary>A key as it stands in an address: the server leaves an escaped slash as it is.</summary>
    /// <param name="segment">The segment of the address.</param>
    internal static string KeyOf(string segment) => segment.Replace("%2F", "/", StringComparison.OrdinalIgnoreCase);

    private static async Task<IResult> FormAsync(
        HttpContext context, Pages pages, CloseOutReports reports, VisitQueries queries, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        string? corrects = query.Text(CloseOutFields.Corrects);
        if (query.Text("unit") is not { } unit)
        {
            return Problems.Invalid("unit", "missing", "Nobody said which unit was visited.", "Open the form from the unit's page, or give ?unit=.");
        }

        SheetQuestion question = SheetQuestions.Read(context.Request, query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        if (corrects is not null)
        {
            Reader reader = ReaderOf(context);
            return await queries.FindAsync(corrects, reader.Name, cancellationToken) is { } visit && MayCorrect(visit, reader)
                && await reports.CorrectAsync(visit, reader, now, cancellationToken) is { } again
                ? pages.Of<CloseOutPage>(context, again, now)
                : Problems.NotFound("visit", corrects);
        }

        try
        {
            return await reports.AssembleAsync(unit, question, ReaderOf(context), now, cancellationToken) is { } report
                ? pages.Of<CloseOutPage>(context, report, now)
                : Problems.NotFound("unit", unit);
        }
        catch (UnknownOnSheetException unknown)
        {
            return Problems.Invalid([unknown.Problem]);
        }
    }

    private static async Task<IResult> SaveAsync(
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        CloseOuts closeOuts,
        CloseOutReports reports,
        VisitQueries queries,
        PhotoUploads uploads,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        IFormCollection form = await CloseOutForm.ReadAsync(context, forms, settings, cancellationToken);
        CloseOutValues values = CloseOutForm.Values(form);
        Reader reader = ReaderOf(context);
        DateTimeOffset now = clock.GetUtcNow();
        CloseOutResult result = await closeOuts.SaveAsync(values, reader.Name, ReaderRequests.Of(context), now, cancellationToken);
        IReadOnlyList<string> leftOut = !result.IsRefused && await queries.FindAsync(result.Key, reader.Name, cancellationToken) is { } visit
            ? await uploads.KeepAsync(visit, form.Files.GetFiles(CloseOutFields.Photo), now, cancellationToken)
            : [];
        if (!Pages.IsForPerson(context.Request))
        {
            return Answer(context, result, leftOut);
        }

        if (!result.IsRefused)
        {
            context.Response.Headers.Location = Urls.Visit(result.Key, result.Outcome, leftOut);
            return Results.StatusCode(StatusCodes.Status303SeeOther);
        }

        // What is saved is written for nobody in particular; the form that is shown again is for its reader.
        using IDisposable forReader = ReaderPreferences.Use(ReaderRequests.Of(context));
        return await reports.AssembleAsync(values, result.Problems, reader, now, cancellationToken) is { } again
            ? pages.Of<CloseOutPage>(context, again, now, StatusCodes.Status422UnprocessableEntity)
            : Problems.NotFound("unit", values.Of(CloseOutFields.Unit) ?? string.Empty);
    }

    private static JsonHttpResult<CloseOutAnswer> Answer(HttpContext context, CloseOutResult result, IReadOnlyList<string> leftOut)
    {
        context.Response.Headers.CacheControl = "no-store";
        var answer = new CloseOutAnswer(
            result.Outcome, result.IsRefused ? null : Urls.Visit(result.Key, result.Outcome, leftOut), result.Problems, result.Doubts, leftOut);
        return TypedResults.Json(answer, Json.Options, statusCode: result.IsRefused ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK);
    }

    // The form tells again what the form told: of other senders' visits it may lack fields.
    private static bool MayCorrect(VisitRow visit, Reader reader) =>
        MayWithdraw(visit, reader) && visit.ArrivedAt is not null && Guid.TryParse(visit.Key, out _);

    private static bool MayWithdraw(VisitRow visit, Reader reader) => reader.MaySend && visit.Source == reader.Name && !visit.IsVoided;

    private static async Task<IResult> WithdrawAsync(
        string key, HttpContext context, IAntiforgery forms, CloseOuts closeOuts, VisitQueries queries, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        IFormCollection form = await CloseOutForm.ReadAsync(context, forms, settings, cancellationToken);
        Reader reader = ReaderOf(context);
        if (await queries.FindAsync(KeyOf(key), reader.Name, cancellationToken) is not { } visit || visit.Source != reader.Name)
        {
            return Problems.NotFound("visit", key);
        }

        if (CloseOutForm.Values(form).Of("reason") is not { } reason)
        {
            return Problems.Invalid("reason", "missing", "Nobody said why the visit is withdrawn.", "Say it in a few words, such as: entered for the wrong oven.");
        }

        CloseOutResult result = await closeOuts.WithdrawAsync(visit, reason, clock.GetUtcNow(), cancellationToken);
        if (result.IsRefused)
        {
            return Problems.Invalid([.. result.Problems.Select(problem => new FieldProblem(problem.Field ?? CloseOutFields.Key, problem.Rule, problem.Detail, problem.Mend))]);
        }

        context.Response.Headers.Location = Urls.Visit(visit.Key, "withdrawn", []);
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }

    private static async Task<IResult> ReceiptAsync(
        string key, HttpContext context, Pages pages, VisitReports reports, VisitQueries queries, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        if (await reports.AssembleAsync(KeyOf(key), SourceOf(context) ?? ReaderOf(context).Name, now, cancellationToken) is not { } visit)
        {
            return Problems.NotFound("visit", key);
        }

        var query = new Query(context.Request.Query);
        string? done = VisitSentences.Done(query.Text("done"));
        IReadOnlyList<string> leftOut = VisitSentences.LeftOut((query.Text("left_out") ?? string.Empty).Split(','));
        Reader reader = ReaderOf(context);
        VisitRow? row = await queries.FindAsync(visit.Key, visit.Source, cancellationToken);
        VisitRow? earlier = row?.Replaces is { } replaced ? await queries.FindAsync(replaced, visit.Source, cancellationToken) : null;
        return pages.Of<VisitPage>(
            context,
            new VisitPageReport(
                visit,
                done,
                leftOut,
                reader.MaySend,
                row is not null && MayCorrect(row, reader),
                row is not null && MayWithdraw(row, reader),
                earlier?.ArrivedAt is null ? null : earlier.Key,
                row?.ReplacedBy),
            now);
    }

    private static async Task<IResult> ReportAsync(
        string key, HttpContext context, VisitReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        await reports.AssembleAsync(KeyOf(key), SourceOf(context), clock.GetUtcNow(), cancellationToken) is { } report
            ? TypedResults.Ok(report)
            : Problems.NotFound("visit", key);

    private static JsonHttpResult<FormToken> Token(HttpContext context, IAntiforgery forms)
    {
        AntiforgeryTokenSet tokens = forms.GetAndStoreTokens(context);
        context.Response.Headers.CacheControl = "no-store";
        return TypedResults.Json(new FormToken(tokens.FormFieldName, tokens.RequestToken!, ReaderOf(context).Name), Json.Options);
    }

    /// <summary>Who is signed in.</summary>
    /// <param name="context">The request.</param>
    internal static Reader ReaderOf(HttpContext context) =>
        new(context.User.Identity?.Name ?? "unknown", context.User.May(Abilities.Work));

    internal sealed record FormToken(string Field, string Token, string Reader);

    private sealed record CloseOutAnswer(
        string Outcome, string? Receipt, IReadOnlyList<CloseOutProblem> Problems, IReadOnlyList<CloseOutProblem> Doubts, IReadOnlyList<string> LeftOut);
}
