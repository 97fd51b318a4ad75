using System.Globalization;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.People;

namespace Washwear.Api.Accounts;

/// <summary>People and invitations over HTTP.</summary>
public static class PeopleEndpoints
{
    private static readonly CsvColumn<PersonEntry>[] Columns =
    [
        new("id", row => row.Id), new("login", row => row.Login), new("name", row => row.Name), new("abilities", row => string.Join(' ', row.Abilities)),
        new("scope", row => row.Scope.ToString()), new("has_password", row => row.HasPassword), new("created_at", row => row.CreatedAt),
        new("disabled_at", row => row.DisabledAt),
    ];

    private static readonly CsvColumn<InvitationEntry>[] InvitationColumns =
    [
        new("id", row => row.Id), new("note", row => row.Note), new("abilities", row => string.Join(' ', row.Abilities)), new("scope", row => row.Scope.ToString()),
        new("made_by", row => row.MadeBy), new("made_at", row => row.MadeAt), new("expires_at", row => row.ExpiresAt),
    ];

    /// <summary>Maps people, keys, sessions and one's own account, routes and pages.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapAccounts(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder people = routes.MapGroup("/v1/people").RequireAbility(Abilities.Administer).WithTags("People");
        MapPeople(people);
        MapInvitations(people);
        KeyEndpoints.Map(routes);
        SessionEndpoints.Map(routes);
        PeoplePages.Map(routes);
        KeyPages.Map(routes);
        AccountPages.Map(routes);
        PreferenceEndpoints.Map(routes);
    }

    private static void MapPeople(RouteGroupBuilder people)
    {
        people.MapGet(string.Empty, ListAsync).ProducesList<PageOf<PersonEntry>>().WithSummary("List people")
            .WithDescription("In the order of their logins, those who may not sign in any more too.");
        people.MapGet("/{id:long}", GetAsync).Produces<PersonEntry>().WithSummary("One person")
            .WithDescription("What the person may do and sees.");
        people.MapPut("/{id:long}", PutAsync).Audited("person.put").Accepts<PersonResource>("application/json").Produces<PersonEntry>()
            .WithSummary("Change one person")
            .WithDescription(
                "Abilities, scope, name and whether the person may sign in; holds at the person's next request. Nobody gives or takes away what he may not do "
                + "himself, and somebody who may administer, a person or a key, has to be left. Disabling ends all sessions of the person.");
        people.MapDelete("/{id:long}", DisableAsync).Audited("person.disable").Produces(StatusCodes.Status204NoContent).WithSummary("Disable one person")
            .WithDescription("The person is signed out everywhere and may not sign in any more. The login stays taken, as records name it.");
        people.MapPost("/{id:long}/password-link", LinkAsync).Audited("person.make_link").Produces<PasswordLinkEntry>()
            .WithSummary("Make a link to set a new password")
            .WithDescription("Shown this once, good once. One made before is good no more; the present password is, until the link is used.");
    }

    private static void MapInvitations(RouteGroupBuilder people)
    {
        people.MapGet("/invitations", InvitationsAsync).ProducesList<PageOf<InvitationEntry>>().WithSummary("List invitations")
            .WithDescription("Those that nobody has taken yet and that can still be taken, without their links.");
        people.MapPost("/invitations", InviteAsync).Audited("invitation.make").Accepts<InvitationResource>("application/json").Produces<InvitationEntry>()
            .WithSummary("Invite somebody")
            .WithDescription(
                "Makes a link, shown this once and good once, by which somebody chooses name, login and password. Nobody invites to more than he may do himself.");
        people.MapDelete("/invitations/{id:long}", WithdrawAsync).Audited("invitation.withdraw").Produces(StatusCodes.Status204NoContent)
            .WithSummary("Take an invitation back").WithDescription("Its link is good no more.");
    }

    private static async Task<IResult> ListAsync(HttpContext context, People people, Settings settings, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IReadOnlyList<Person> rows = await people.ListAsync(page.After?[0], page.Limit + 1, cancellationToken);
        return Formats.List(context, Paging.Trim<PersonEntry>([.. rows.Select(Entries.Of)], row => [Codes.Key(row.Login)], page), Columns);
    }

    private static async Task<IResult> GetAsync(long id, People people, CancellationToken cancellationToken) =>
        await people.FindAsync(id, cancellationToken) is { } person ? TypedResults.Ok(Entries.Of(person)) : NoPerson(id);

    private static async Task<IResult> PutAsync(
        long id, HttpContext context, People people, RegistryCache registry, TimeProvider clock, CancellationToken cancellationToken)
    {
        (PersonResource? resource, ProblemResult? unreadable) = await JsonBody.ReadAsync<PersonResource>(context.Request, null, cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        try
        {
            Grant grant = Grant.Read(resource.Abilities, resource.Scope, await registry.CurrentAsync(cancellationToken));
            Person? changed = await ChangeAsync(
                context, people, id, grant, resource.Name, resource.Disabled ?? false, clock.GetUtcNow(), cancellationToken);
            return changed is null ? NoPerson(id) : TypedResults.Ok(Entries.Of(changed));
        }
        catch (PersonRefusedException refused)
        {
            return Grant.Problem(refused);
        }
    }

    /// <summary>Changes a person as a body or a form says, and notes what changed.</summary>
    internal static Task<Person?> ChangeAsync(
        HttpContext context, People people, long id, Grant grant, string? name, bool disabled, DateTimeOffset now, CancellationToken cancellationToken) =>
        people.ChangeAsync(
            id,
            Grant.Of(context.User),
            before =>
            {
                Person after = before with
                {
                    Name = name ?? before.Name,
                    Abilities = grant.Abilities,
                    Scope = grant.Scope,
                    DisabledAt = disabled ? before.DisabledAt ?? now : null,
                };
                AuditNote.Current?.On("person", id.ToString(CultureInfo.InvariantCulture), before.Login);
                AuditNote.Current?.Saying($"{InWords(before)} → {InWords(after)}");
                return after;
            },
            cancellationToken);

    private static async Task<IResult> DisableAsync(
        long id, HttpContext context, People people, TimeProvider clock, CancellationToken cancellationToken)
    {
        try
        {
            DateTimeOffset now = clock.GetUtcNow();
            Person? changed = await people.ChangeAsync(
                id, Grant.Of(context.User), person => person with { DisabledAt = person.DisabledAt ?? now }, cancellationToken);
            return changed is null ? NoPerson(id) : TypedResults.NoContent();
        }
        catch (PersonRefusedException refused)
        {
            return Grant.Problem(refused);
        }
    }

    private static async Task<IResult> LinkAsync(
        long id, HttpContext context, People people, PersonLinks links, Settings settings, CancellationToken cancellationToken)
    {
        if (await people.FindAsync(id, cancellationToken) is not { } person)
        {
            return NoPerson(id);
        }

        try
        {
            (PersonLink link, string token) = await links.ResetAsync(person, Caller(context), Grant.Of(context.User), cancellationToken);
            context.Response.Headers.CacheControl = "no-store";
            return TypedResults.Ok(new PasswordLinkEntry(person.Login, link.ExpiresAt, Entries.LinkOf(token, settings, context.Request)));
        }
        catch (PersonRefusedException refused)
        {
            return Grant.Problem(refused);
        }
    }

    private static async Task<IResult> InvitationsAsync(HttpContext context, PersonLinks links, Settings settings, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IEnumerable<InvitationEntry> rows = (await links.OpenAsync(cancellationToken)).Select(link => Entries.Of(link));
        return Formats.List(context, Paging.Take(rows, row => row.Id.ToString("D19", CultureInfo.InvariantCulture), page), InvitationColumns);
    }

    private static async Task<IResult> InviteAsync(
        HttpContext context, PersonLinks links, RegistryCache registry, Settings settings, CancellationToken cancellationToken)
    {
        (InvitationResource? resource, ProblemResult? unreadable) = await JsonBody.ReadAsync<InvitationResource>(context.Request, null, cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        try
        {
            Grant grant = Grant.Read(resource.Abilities, resource.Scope, await registry.CurrentAsync(cancellationToken));
            context.Response.Headers.CacheControl = "no-store";
            return TypedResults.Ok(await CreateInvitationAsync(context, links, settings, grant, resource.Note, cancellationToken));
        }
        catch (PersonRefusedException refused)
        {
            return Grant.Problem(refused);
        }
    }

    /// <summary>Makes an invitation as a body or a form says.</summary>
    internal static async Task<InvitationEntry> CreateInvitationAsync(
        HttpContext context, PersonLinks links, Settings settings, Grant grant, string? note, CancellationToken cancellationToken)
    {
        string meant = (note ?? string.Empty).Trim();
        if (meant.Length > PersonLinks.MostNoteCharacters || meant.Any(char.IsControl))
        {
            throw new PersonRefusedException("note", "text", "A note has up to 200 printable characters.", "Shorten it.");
        }

        (PersonLink link, string token) =
            await links.InviteAsync(grant.Abilities, grant.Scope, meant, Caller(context), Grant.Of(context.User), cancellationToken);
        return Entries.Of(link, Entries.LinkOf(token, settings, context.Request));
    }

    private static async Task<IResult> WithdrawAsync(long id, PersonLinks links, CancellationToken cancellationToken) =>
        await links.WithdrawAsync(id, cancellationToken)
            ? TypedResults.NoContent()
            : Problems.NotFound("invitation", id.ToString(CultureInfo.InvariantCulture));

    /// <summary>The answer where a person is not there.</summary>
    internal static ProblemResult NoPerson(long id) =>
        Problems.Status(StatusCodes.Status404NotFound, $"There is no person number {id}; the list of people shows who there is.");

    private static string InWords(Person person) =>
        $"{string.Join(' ', AbilityRules.Words(person.Abilities))}, {person.Scope.InWords()}, {(person.DisabledAt is null ? "may sign in" : "disabled")}";

    private static string Caller(HttpContext context) => context.User.Identity?.Name ?? "unknown";
}
