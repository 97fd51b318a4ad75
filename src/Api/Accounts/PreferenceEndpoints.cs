using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Storage;
using Washwear.Dashboard.Account;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Accounts;

/// <summary>How whoever is signed in likes to read.</summary>
internal static class PreferenceEndpoints
{
    private const string Why = "It is the reader's own taste, and touches nobody else and no figure.";

    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder own = routes.MapGroup("/v1/account/preferences").RequireAuthorization().WithTags("Account");
        own.MapGet(string.Empty, (Delegate)Show).Produces<PreferencesReport>().WithSummary("How one likes to read")
            .WithDescription("What the signed-in reader has chosen, and how pages and charts are written for the reader: with the browser's languages where nothing "
                + "was chosen. For people who are signed in; a program's key reads nothing. Answers of this API are never shaped by it: they stay in "
                + "SI units, with ISO dates and plain numbers.");
        own.MapPut(string.Empty, KeepAsync).NotAudited(Why).Accepts<PreferenceChoice>("application/json").Produces<PreferencesReport>()
            .WithSummary("Choose how one likes to read")
            .WithDescription("What is left out is not chosen. A person's choice is kept with the person; for whoever signed in with a key, in a cookie that holds "
                + "nothing else.");
        routes.MapPost(Urls.AccountPreferences, KeepFormAsync).RequireAuthorization().ExcludeFromDescription().NotAudited(Why);
    }

    private static IResult Show(HttpContext context) =>
        SessionCookie.Of(context) is null ? AccountPages.NoSession() : TypedResults.Ok(Report(context, ReaderRequests.Chosen(context)));

    private static async Task<IResult> KeepAsync(HttpContext context, Database database, SessionCache sessions, CancellationToken cancellationToken)
    {
        if (SessionCookie.Of(context) is not { } session)
        {
            return AccountPages.NoSession();
        }

        (PreferenceChoice? choice, ProblemResult? unreadable) = await JsonBody.ReadAsync<PreferenceChoice>(context.Request, null, cancellationToken);
        if (choice is null)
        {
            return unreadable!;
        }

        // An empty text chooses nothing, as in the form.
        choice = PreferenceChoice.Of(field => choice.Fields().First(one => one.Field == field).Value);
        if (choice.Wrong() is { Count: > 0 } wrong)
        {
            return Problems.Invalid([.. wrong.Select(field => new FieldProblem(
                field.Field, "choice", $"This cannot be chosen for {field.Field}.", $"Choose one of: {field.Choices}; or leave it out."))]);
        }

        await StoreAsync(context, session, choice, database, sessions, cancellationToken);
        return TypedResults.Ok(Report(context, choice));
    }

    private static async Task<IResult> KeepFormAsync(
        HttpContext context, IAntiforgery forms, Database database, SessionCache sessions, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        if (SessionCookie.Of(context) is not { } session)
        {
            return AccountPages.NoSession();
        }

        // Whatever the form offers can be chosen; anything else was not sent by it, and chooses nothing.
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        PreferenceChoice asked = PreferenceChoice.Of(field => form[field].ToString());
        string[] wrong = [.. asked.Wrong().Select(field => field.Field)];
        var choice = PreferenceChoice.Of(field => wrong.Contains(field) ? null : form[field].ToString());
        await StoreAsync(context, session, choice, database, sessions, cancellationToken);
        return new SeeOther(Urls.Account + (wrong.Length == 0 ? "?done=preferences#reading" : "?done=some-preferences#reading"));
    }

    private static async Task StoreAsync(
        HttpContext context, Session session, PreferenceChoice choice, Database database, SessionCache sessions, CancellationToken cancellationToken)
    {
        if (session.PersonId is { } person)
        {
            await database.WriteAsync(writing => PreferenceQueries.KeepAsync(writing, person, choice.Kept(), cancellationToken), cancellationToken);
            sessions.Clear();
            return;
        }

        ReaderRequests.KeepInCookie(context, choice);
    }

    private static PreferencesReport Report(HttpContext context, PreferenceChoice choice) =>
        new(choice, PreferenceChoice.Holding(ReaderRequests.Of(context, choice)), SessionCookie.Of(context)?.PersonId is null ? "browser" : "person");
}
