using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.People;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Accounts;

/// <summary>Pages of people for administrators.</summary>
internal static class PeoplePages
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Administer).ExcludeFromDescription();
        pages.MapGet(Urls.People, ListAsync);
        pages.MapPost(Urls.Invitations, InviteAsync).Audited("invitation.make");
        pages.MapPost(Urls.InvitationWithdrawRoute, WithdrawAsync).Audited("invitation.withdraw");
        pages.MapGet(Urls.PersonRoute, ShowAsync);
        pages.MapPost(Urls.PersonRoute, ChangeAsync).Audited("person.put");
        pages.MapPost(Urls.PersonPasswordLinkRoute, LinkAsync).Audited("person.make_link");
        pages.MapPost(Urls.PersonSessionsRoute, EndSessionAsync).Audited("session.revoke");
    }

    private static Task<IResult> ListAsync(
        HttpContext context, Pages pages, People people, PersonLinks links, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        ListPageAsync(context, pages, people, links, settings, clock, null, null, null, cancellationToken);

    private static async Task<IResult> InviteAsync(
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        People people,
        PersonLinks links,
        RegistryCache registry,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        try
        {
            Grant grant = Grant.Read(form, await registry.CurrentAsync(cancellationToken));
            InvitationEntry made = await PeopleEndpoints.CreateInvitationAsync(context, links, settings, grant, form["note"].ToString(), cancellationToken);
            return await ListPageAsync(context, pages, people, links, settings, clock, made, null, null, cancellationToken);
        }
        catch (PersonRefusedException refused)
        {
            return await ListPageAsync(context, pages, people, links, settings, clock, null, refused, Grant.Typed(form, "note"), cancellationToken);
        }
    }

    private static async Task<IResult> WithdrawAsync(
        long id, HttpContext context, IAntiforgery forms, PersonLinks links, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        await links.WithdrawAsync(id, cancellationToken);
        return new SeeOther(Urls.People);
    }

    private static Task<IResult> ShowAsync(
        long id, HttpContext context, Pages pages, People people, Sessions sessions, TimeProvider clock, CancellationToken cancellationToken) =>
        PersonPageAsync(id, context, pages, people, sessions, clock, null, null, null, cancellationToken);

    private static async Task<IResult> ChangeAsync(
        long id,
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        People people,
        Sessions sessions,
        RegistryCache registry,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        try
        {
            Grant grant = Grant.Read(form, await registry.CurrentAsync(cancellationToken));
            Person? changed = await PeopleEndpoints.ChangeAsync(
                context, people, id, grant, form["name"].ToString().Trim(), form["disabled"] == "yes", clock.GetUtcNow(), cancellationToken);
            return changed is null ? PeopleEndpoints.NoPerson(id) : new SeeOther(Urls.Person(id));
        }
        catch (PersonRefusedException refused)
        {
            return await PersonPageAsync(id, context, pages, people, sessions, clock, null, refused, Grant.Typed(form, "name"), cancellationToken);
        }
    }

    private static async Task<IResult> LinkAsync(
        long id,
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        People people,
        PersonLinks links,
        Sessions sessions,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        if (await people.FindAsync(id, cancellationToken) is not { } person)
        {
            return PeopleEndpoints.NoPerson(id);
        }

        try
        {
            (PersonLink link, string token) = await links.ResetAsync(
                person, context.User.Identity?.Name ?? "unknown", Grant.Of(context.User), cancellationToken);
            var made = new PasswordLinkEntry(person.Login, link.ExpiresAt, Entries.LinkOf(token, settings, context.Request));
            return await PersonPageAsync(id, context, pages, people, sessions, clock, made, null, null, cancellationToken);
        }
        catch (PersonRefusedException refused)
        {
            return await PersonPageAsync(id, context, pages, people, sessions, clock, null, refused, null, cancellationToken);
        }
    }

    private static async Task<IResult> EndSessionAsync(
        long id, HttpContext context, IAntiforgery forms, Sessions sessions, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        IReadOnlyList<Session> theirs = await sessions.ListAsync(id, null, cancellationToken);
        if (long.TryParse(form["session"], NumberStyles.None, CultureInfo.InvariantCulture, out long number) && theirs.Any(session => session.Id == number))
        {
            await sessions.EndAsync(number, cancellationToken);
        }

        return new SeeOther(Urls.Person(id));
    }

    private static async Task<IResult> ListPageAsync(
        HttpContext context,
        Pages pages,
        People people,
        PersonLinks links,
        Settings settings,
        TimeProvider clock,
        InvitationEntry? made,
        PersonRefusedException? refused,
        GrantTyped? typed,
        CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IReadOnlyList<Person> rows = await people.ListAsync(page.After?[0], page.Limit + 1, cancellationToken);
        PageOf<PersonEntry> shown = Paging.Trim<PersonEntry>([.. rows.Select(Entries.Of)], row => [Codes.Key(row.Login)], page);
        var report = new PeopleReport(
            shown.Items,
            shown.Next,
            [.. (await links.OpenAsync(cancellationToken)).Select(link => Entries.Of(link))],
            [.. AbilityRules.Words(Grant.Of(context.User))],
            made,
            InWords(refused))
        {
            MaySignIn = await people.CountAsync(cancellationToken),
            Typed = typed,
        };
        return pages.Of<PeoplePage>(context, report, clock.GetUtcNow(), StatusOf(refused));
    }

    private static async Task<IResult> PersonPageAsync(
        long id,
        HttpContext context,
        Pages pages,
        People people,
        Sessions sessions,
        TimeProvider clock,
        PasswordLinkEntry? made,
        PersonRefusedException? refused,
        GrantTyped? typed,
        CancellationToken cancellationToken)
    {
        if (await people.FindAsync(id, cancellationToken) is not { } person)
        {
            return PeopleEndpoints.NoPerson(id);
        }

        var report = new PersonReport(
            Entries.Of(person),
            [.. (await sessions.ListAsync(id, null, cancellationToken)).Select(Entries.Of)],
            [.. AbilityRules.Words(Grant.Of(context.User))],
            made,
            InWords(refused))
        {
            Typed = typed,
        };
        return pages.Of<PersonPage>(context, report, clock.GetUtcNow(), StatusOf(refused));
    }

    /// <summary>A refusal as a page says it.</summary>
    internal static string? InWords(PersonRefusedException? refused) => refused is null ? null : $"{refused.Message} {refused.Mend}";

    /// <summary>The status of a page that says why something was not done.</summary>
    internal static int StatusOf(PersonRefusedException? refused) => refused is null ? StatusCodes.Status200OK : StatusCodes.Status400BadRequest;
}
