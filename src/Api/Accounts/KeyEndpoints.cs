using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.People;

namespace Washwear.Api.Accounts;

/// <summary>Keys over HTTP.</summary>
internal static class KeyEndpoints
{
    private static readonly CsvColumn<KeyEntry>[] Columns =
    [
        new("key", row => row.Name), new("abilities", row => string.Join(' ', row.Abilities)), new("scope", row => row.Scope.ToString()),
        new("created_at", row => row.CreatedAt), new("revoked_at", row => row.RevokedAt),
    ];

    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder keys = routes.MapGroup("/v1/keys").RequireAbility(Abilities.Administer).WithTags("Keys");
        keys.MapGet(string.Empty, ListAsync).ProducesList<PageOf<KeyEntry>>().WithSummary("List keys")
            .WithDescription("By name, revoked ones too. Secrets are never listed; only their hashes are kept.");
        keys.MapPost(string.Empty, MakeAsync).Audited("key.make").Accepts<KeyResource>("application/json").Produces<KeyEntry>().WithSummary("Make a key")
            .WithDescription("Its secret is shown this once. Nobody gives a key more than he may do himself. A name is used once, a revoked key's too.");
        keys.MapDelete("/{key}", RevokeAsync).Audited("key.revoke").Produces(StatusCodes.Status204NoContent).WithSummary("Revoke a key")
            .WithDescription("It stops working at once, and so do sign-ins made with it. Somebody who may administer, a person or a key, has to be left.");
    }

    /// <summary>Makes a key as a body or a form says.</summary>
    /// <exception cref="PersonRefusedException">It cannot be done.</exception>
    internal static async Task<KeyEntry> CreateAsync(HttpContext context, Keys keys, Grant grant, string name, CancellationToken cancellationToken)
    {
        if (!Codes.IsValid(name))
        {
            throw new PersonRefusedException(
                "name", "text", "A key's name has 1 to 64 printable characters and no space at either end.", "Name what it is for, such as gateway-3.");
        }

        PersonRules.Fits(grant.Abilities, grant.Scope);
        PersonRules.Within(grant.Abilities, Grant.Of(context.User));
        AuditNote.Current?.On("key", null, name);
        AuditNote.Current?.Saying($"{string.Join(' ', AbilityRules.Words(grant.Abilities))}, {grant.Scope.InWords()}");
        string secret = await keys.AddAsync(name, grant.Abilities, grant.Scope, cancellationToken)
            ?? throw new PersonRefusedException("name", "taken", $"There is, or was, a key or a person named '{name}' already.", "Choose another name.");
        ApiKey made = (await keys.ListAsync(cancellationToken)).First(key => key.Name == name);
        return Entries.Of(made, secret);
    }

    private static async Task<IResult> ListAsync(HttpContext context, Keys keys, Settings settings, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IEnumerable<KeyEntry> rows = (await keys.ListAsync(cancellationToken)).Select(key => Entries.Of(key)).OrderBy(key => key.Name, StringComparer.Ordinal);
        return Formats.List(context, Paging.Take(rows, row => row.Name, page), Columns);
    }

    private static async Task<IResult> MakeAsync(HttpContext context, Keys keys, RegistryCache registry, CancellationToken cancellationToken)
    {
        (KeyResource? resource, ProblemResult? unreadable) = await JsonBody.ReadAsync<KeyResource>(context.Request, null, cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        try
        {
            Grant grant = Grant.Read(resource.Abilities, resource.Scope, await registry.CurrentAsync(cancellationToken));
            context.Response.Headers.CacheControl = "no-store";
            return TypedResults.Ok(await CreateAsync(context, keys, grant, resource.Name, cancellationToken));
        }
        catch (PersonRefusedException refused)
        {
            return Grant.Problem(refused);
        }
    }

    private static async Task<IResult> RevokeAsync(string key, HttpContext context, Keys keys, CancellationToken cancellationToken)
    {
        try
        {
            AuditNote.Current?.On("key", null, key);
            return await keys.RevokeAsync(key, Grant.Of(context.User), cancellationToken)
                ? TypedResults.NoContent()
                : Problems.Status(StatusCodes.Status404NotFound, $"There is no good key named '{key}'; the list of keys shows what there is.");
        }
        catch (PersonRefusedException refused)
        {
            return Grant.Problem(refused);
        }
    }
}
