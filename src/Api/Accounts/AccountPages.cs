using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Account;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Accounts;

/// <summary>One's own account: whoever is signed in sees and ends own sessions and changes the own password, and needs no ability for it.</summary>
internal static class AccountPages
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder own = routes.MapGroup(string.Empty).RequireAuthorization().ExcludeFromDescription();
        own.MapGet(Urls.Account, ShowAsync);
        own.MapPost(Urls.AccountPassword, ChangePasswordAsync).Audited("password.change");
        own.MapPost(Urls.AccountSessions, EndSessionsAsync).Audited("session.revoke");
    }

    private static async Task<IResult> ShowAsync(
        HttpContext context, Pages pages, Sessions sessions, TimeProvider clock, string? done, CancellationToken cancellationToken) =>
        SessionCookie.Of(context) is { } session
            ? await PageAsync(context, pages, sessions, session, clock, null, Done(done), cancellationToken)
            : NoSession();

    private static AccountDone? Done(string? done) => done switch
    {
        "password" => AccountDone.Password,
        "preferences" => AccountDone.Preferences,
        "some-preferences" => AccountDone.SomePreferences,
        _ => null,
    };

    private static async Task<IResult> ChangePasswordAsync(
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        People people,
        Sessions sessions,
        SignInAttempts attempts,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        if (SessionCookie.Of(context) is not { PersonId: { } person } session)
        {
            return NoSession();
        }

        // Whoever finds a signed-in browser could else guess here for as long as he likes.
        if (SignIn.MustWait(context, attempts, session.Name) is { } wait)
        {
            return wait;
        }

        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        string present = form["present"].ToString();
        string password = form["password"].ToString();
        if (present.Length > PasswordRules.Most * 2 || await people.FindAsync(session.Name, present, cancellationToken) is null)
        {
            return await PageAsync(context, pages, sessions, session, clock, JoinTrouble.PresentPassword, null, cancellationToken);
        }

        attempts.Succeeded(context.Connection.RemoteIpAddress, session.Name);
        if (PasswordRules.WhyNot(password, session.Name, session.ShownName) is { } unfit)
        {
            return await PageAsync(context, pages, sessions, session, clock, unfit, null, cancellationToken);
        }

        await people.SetPasswordAsync(person, password, session.Id, cancellationToken);
        return new SeeOther(Urls.Account + "?done=password");
    }

    private static async Task<IResult> EndSessionsAsync(
        HttpContext context, IAntiforgery forms, Sessions sessions, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        if (SessionCookie.Of(context) is not { } session)
        {
            return NoSession();
        }

        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        string asked = form["session"].ToString();
        if (asked.Length == 0)
        {
            await sessions.EndOthersAsync(session, cancellationToken);
        }
        else if (long.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out long number)
            && (await OwnAsync(sessions, session, cancellationToken)).Any(own => own.Id == number))
        {
            await sessions.EndAsync(number, cancellationToken);
        }

        return new SeeOther(Urls.Account);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context,
        Pages pages,
        Sessions sessions,
        Session session,
        TimeProvider clock,
        JoinTrouble? trouble,
        AccountDone? done,
        CancellationToken cancellationToken)
    {
        var report = new AccountReport(
            session.Name,
            session.ShownName,
            session.PersonId is not null,
            context.User.May(Abilities.Administer),
            [.. (await OwnAsync(sessions, session, cancellationToken)).Select(Entries.Of)],
            session.Id,
            PasswordRules.Fewest,
            trouble,
            done)
        {
            Chosen = ReaderRequests.Chosen(context),
        };
        return pages.Of<AccountPage>(
            context, report, clock.GetUtcNow(), trouble is null ? StatusCodes.Status200OK : StatusCodes.Status400BadRequest);
    }

    private static Task<IReadOnlyList<Session>> OwnAsync(Sessions sessions, Session session, CancellationToken cancellationToken) =>
        sessions.ListAsync(session.PersonId, session.PersonId is null ? session.KeyId : null, cancellationToken);

    /// <summary>The answer to a program's key.</summary>
    internal static ProblemResult NoSession() =>
        Problems.Status(StatusCodes.Status403Forbidden, "This page is for people who are signed in, not for keys.");
}
