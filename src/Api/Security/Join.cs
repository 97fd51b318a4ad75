using Microsoft.AspNetCore.Mvc;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Security;

/// <summary>Where whoever was invited chooses login and password, and where a person sets a new one by a link.</summary>
internal static class Join
{
    private const int MostTokenCharacters = 200;

    // A longer text is refused by the rules as well; it is only never hashed.
    private const int MostFieldCharacters = 400;

    /// <summary>Maps the routes; they are open to whoever has the link.</summary>
    /// <param name="open">A group that is open to everybody.</param>
    public static void MapJoin(this RouteGroupBuilder open)
    {
        open.MapGet(Urls.JoinRoute, ShowAsync);
        open.MapPost(Urls.JoinRoute, TakeAsync).Audited("person.join");
    }

    // Reading the form uses nothing up: mail programs and messengers read links beforehand.
    private static async Task<IResult> ShowAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        PersonLinks links,
        People people,
        SignInAttempts attempts,
        string? token,
        CancellationToken cancellationToken)
    {
        (JoinReport? report, IResult? problem) = await FindAsync(context, pages, clock, links, people, attempts, token, cancellationToken);
        return report is null ? problem! : pages.Of<JoinPage>(context, report, clock.GetUtcNow());
    }

    private static async Task<IResult> TakeAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        PersonLinks links,
        People people,
        SignInAttempts attempts,
        [FromForm(Name = "token")] string? token,
        [FromForm(Name = "name")] string? name,
        [FromForm(Name = "login")] string? login,
        [FromForm(Name = "password")] string? password,
        CancellationToken cancellationToken)
    {
        (JoinReport? report, IResult? problem) = await FindAsync(context, pages, clock, links, people, attempts, token, cancellationToken);
        if (report is null)
        {
            return problem!;
        }

        JoinReport filled = report.IsNew ? report with { Name = Cut(name), Login = Cut(login) } : report;
        string chosen = password ?? string.Empty;
        if (PasswordRules.WhyNot(chosen, filled.Login, filled.Name) is { } unfit)
        {
            return Again(context, pages, clock, filled with { Trouble = unfit });
        }

        try
        {
            long? id = filled.IsNew
                ? (await links.AcceptAsync(token!, filled.Login, filled.Name, chosen, cancellationToken))?.Id
                : await links.SetPasswordAsync(token!, chosen, cancellationToken);
            return id is null ? IsOver(context, pages, clock) : await SignIn.EnterAsync(context, id, null, null, cancellationToken);
        }
        catch (PersonRefusedException refused)
        {
            return Again(context, pages, clock, filled with { Trouble = Trouble(refused) });
        }
    }

    private static async Task<(JoinReport? Report, IResult? Problem)> FindAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        PersonLinks links,
        People people,
        SignInAttempts attempts,
        string? token,
        CancellationToken cancellationToken)
    {
        if (SignIn.MustWait(context, attempts) is { } wait)
        {
            return (null, wait);
        }

        PersonLink? link = token is { Length: > 0 and <= MostTokenCharacters } ? await links.FindAsync(token, cancellationToken) : null;
        Person? person = link?.PersonId is { } id ? await people.FindAsync(id, cancellationToken) : null;
        if (link is null || (link.PersonId is not null && person is not { DisabledAt: null }))
        {
            return (null, IsOver(context, pages, clock));
        }

        attempts.Succeeded(context.Connection.RemoteIpAddress);
        return (new JoinReport(token!, person is null, person?.Login ?? string.Empty, person?.Name ?? string.Empty, PasswordRules.Fewest, null), null);
    }

    private static IResult Again(HttpContext context, Pages pages, TimeProvider clock, JoinReport report) =>
        pages.Of<JoinPage>(context, report, clock.GetUtcNow(), StatusCodes.Status400BadRequest);

    private static IResult IsOver(HttpContext context, Pages pages, TimeProvider clock) =>
        SignIn.Form(context, pages, clock, new SignInReport(SignInTrouble.LinkIsOver, null), StatusCodes.Status401Unauthorized);

    private static JoinTrouble Trouble(PersonRefusedException refused) => (refused.Field, refused.Rule) switch
    {
        ("login", "taken") => JoinTrouble.LoginTaken,
        ("login", _) => JoinTrouble.LoginText,
        ("name", _) => JoinTrouble.NameText,
        _ => JoinTrouble.InvitationNotGood,
    };

    private static string Cut(string? text)
    {
        string trimmed = (text ?? string.Empty).Trim();
        return trimmed.Length <= MostFieldCharacters ? trimmed : trimmed[..MostFieldCharacters];
    }
}
