using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.People;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Accounts;

/// <summary>The page of keys for administrators.</summary>
internal static class KeyPages
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Administer).ExcludeFromDescription();
        pages.MapGet(Urls.Keys, ListAsync);
        pages.MapPost(Urls.Keys, MakeAsync).Audited("key.make");
        pages.MapPost(Urls.KeyRevoke, RevokeAsync).Audited("key.revoke");
    }

    private static Task<IResult> ListAsync(
        HttpContext context, Pages pages, Keys keys, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PageAsync(context, pages, keys, settings, clock, null, null, null, cancellationToken);

    private static async Task<IResult> MakeAsync(
        HttpContext context,
        Pages pages,
        IAntiforgery forms,
        Keys keys,
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
            KeyEntry made = await KeyEndpoints.CreateAsync(context, keys, grant, form["name"].ToString().Trim(), cancellationToken);
            return await PageAsync(context, pages, keys, settings, clock, made, null, null, cancellationToken);
        }
        catch (PersonRefusedException refused)
        {
            return await PageAsync(context, pages, keys, settings, clock, null, refused, Grant.Typed(form, "name"), cancellationToken);
        }
    }

    private static async Task<IResult> RevokeAsync(
        HttpContext context, Pages pages, IAntiforgery forms, Keys keys, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        try
        {
            AuditNote.Current?.On("key", null, form["name"].ToString());
            await keys.RevokeAsync(form["name"].ToString(), Grant.Of(context.User), cancellationToken);
            return new SeeOther(Urls.Keys);
        }
        catch (PersonRefusedException refused)
        {
            return await PageAsync(context, pages, keys, settings, clock, null, refused, null, cancellationToken);
        }
    }

    private static async Task<IResult> PageAsync(
        HttpContext context,
        Pages pages,
        Keys keys,
        Settings settings,
        TimeProvider clock,
        KeyEntry? made,
        PersonRefusedException? refused,
        GrantTyped? typed,
        CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IReadOnlyList<ApiKey> all = await keys.ListAsync(cancellationToken);
        PageOf<KeyEntry> shown = Paging.Take(all.Select(key => Entries.Of(key)).OrderBy(GoodFirst, StringComparer.Ordinal), GoodFirst, page);
        var report = new KeysReport(shown.Items, [.. AbilityRules.Words(Grant.Of(context.User))], made, PeoplePages.InWords(refused))
        {
            Next = shown.Next,
            Good = all.Count(key => key.RevokedAt is null),
            Typed = typed,
        };
        return pages.Of<KeysPage>(context, report, clock.GetUtcNow(), PeoplePages.StatusOf(refused));
    }

    private static string GoodFirst(KeyEntry key) => (key.RevokedAt is null ? "0" : "1") + key.Name;
}
