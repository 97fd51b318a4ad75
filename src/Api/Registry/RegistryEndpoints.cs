using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;

namespace Washwear.Api.Registry;

/// <summary>Addresses of the registry.</summary>
public static class RegistryEndpoints
{
    private const string JsonType = "application/json";

    /// <summary>Registers the registry.</summary>
    /// <param name="services">The services.</param>
    public static void AddRegistry(this IServiceCollection services)
    {
        services.AddPerScope<RegistryCache>();
        services.AddSingleton<RegistryWriter>();
        services.AddSingleton<PlanTermsWriter>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapRegistry(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder read = routes.MapGroup("/v1").RequireAbility(Abilities.Read).WithTags("Registry");
        RouteGroupBuilder manage = routes.MapGroup("/v1").RequireAbility(Abilities.Manage).WithTags("Registry");
        MapKind(read, manage, RegistryKinds.Operators);
        MapKind(read, manage, RegistryKinds.Sites);
        MapKind(read, manage, RegistryKinds.Models);
        MapKind(read, manage, RegistryKinds.Units);
        MapKind(read, manage, RegistryKinds.Rules);
        MapKind(read, manage, RegistryKinds.Suppliers);
        MapKind(read, manage, RegistryKinds.Parts);
        MapKind(read, manage, RegistryKinds.StockPoints);
        RuleVersionEndpoints.Map(read);
        PlanTermsEndpoints.Map(read, manage);

        read.MapGet("/registry", GetAllAsync)
            .WithSummary("The whole registry as one document")
            .WithDescription("What PUT takes back, and what the export command writes.");
        manage.MapPut("/registry", PutAllAsync)
            .Audited("registry.put")
            .Accepts<RegistryDocument>(JsonType)
            .Produces<RegistryOutcome>()
            .WithSummary("Put the whole registry")
            .WithDescription(
                "Adds what is new, changes what is different and removes nothing, in one transaction: either all of it or none. "
                + "Resources may refer to one another and to what is stored.");
    }

    private static void MapKind<T>(RouteGroupBuilder read, RouteGroupBuilder manage, RegistryKind<T> kind)
        where T : class
    {
        string one = $"/{kind.Plural}/{{{kind.Name}}}";
        read.MapGet($"/{kind.Plural}", (HttpContext context, RegistryCache cache, Settings settings, CancellationToken cancellationToken) =>
                ListAsync(kind, context, cache, settings, cancellationToken))
            .ProducesList<PageOf<T>>()
            .WithSummary($"List {kind.Plural.Replace('-', ' ')}")
            .WithDescription("In the order of their codes. Give after the cursor of the page before; the Link header has it too.");
        // A unit's own address answers with its state now; what was put is found beside it.
        string word = kind.Name.Replace('_', ' ');
        string asPut = kind.Name == RegistryKinds.Units.Name ? one + "/registration" : one;
        read.MapGet(asPut, (HttpContext context, RegistryCache cache, CancellationToken cancellationToken) =>
                GetAsync(kind, context, cache, cancellationToken))
            .Produces<T>()
            .WithSummary($"One {word} as it was put")
            .WithDescription($"The {word} as the registry holds it.");

        manage.MapPut(one, (HttpContext context, RegistryWriter writer, CancellationToken cancellationToken) =>
                PutAsync(kind, context, writer, cancellationToken))
            .Audited(kind.Name + ".put")
            .Accepts<T>(JsonType)
            .Produces<T>()
            .Produces<T>(StatusCodes.Status201Created)
            .WithSummary($"Put one {word}")
            .WithDescription(
                $"Creates the {word} (201) or replaces it (200); sending the same again changes nothing. "
                + "The body may leave out its own code, which the address gives.");
    }

    private static async Task<IResult> ListAsync<T>(
        RegistryKind<T> kind, HttpContext context, RegistryCache cache, Settings settings, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        RegistrySnapshot registry = await cache.CurrentAsync(cancellationToken);
        return Formats.List(context, Paging.Take(kind.In(registry), row => Codes.Key(kind.Code(row)), page), kind.Columns);
    }

    private static async Task<IResult> GetAsync<T>(
        RegistryKind<T> kind, HttpContext context, RegistryCache cache, CancellationToken cancellationToken)
        where T : class
    {
        string code = CodeOf(kind, context);
        RegistrySnapshot registry = await cache.CurrentAsync(cancellationToken);
        T? found = kind.In(registry).FirstOrDefault(row => Codes.Key(kind.Code(row)) == Codes.Key(code));
        return found is null ? Problems.NotFound(kind.Name, code) : TypedResults.Ok(found);
    }

    private static async Task<IResult> PutAsync<T>(
        RegistryKind<T> kind, HttpContext context, RegistryWriter writer, CancellationToken cancellationToken)
        where T : class
    {
        string code = CodeOf(kind, context);
        (T? resource, ProblemResult? unreadable) = await JsonBody.ReadAsync<T>(context.Request, (kind.Name, code), cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        if (Codes.Key(kind.Code(resource)) != Codes.Key(code))
        {
            return Problems.Invalid(
                kind.Name,
                "same_as_address",
                $"The body says '{kind.Code(resource)}', the address says '{code}'.",
                "Make them the same, or leave the field out of the body.");
        }

        RuleChange? change = null;
        if (resource is RuleResource rule && RuleVersionEndpoints.ReadChange(context, rule, out change) is { } nonsense)
        {
            return nonsense;
        }

        (bool created, IReadOnlyList<FieldProblem> problems) = await writer.PutAsync(kind, resource, cancellationToken, change);
        if (problems.Count > 0)
        {
            return Problems.Invalid(problems);
        }

        return created
            ? TypedResults.Created($"/v1/{kind.Plural}/{Uri.EscapeDataString(kind.Code(resource))}", resource)
            : TypedResults.Ok(resource);
    }

    private static async Task<Ok<RegistryDocument>> GetAllAsync(RegistryCache cache, CancellationToken cancellationToken) =>
        TypedResults.Ok(RegistryDocuments.Of(await cache.CurrentAsync(cancellationToken)));

    private static async Task<IResult> PutAllAsync(HttpContext context, RegistryWriter writer, CancellationToken cancellationToken)
    {
        (RegistryDocument? document, ProblemResult? unreadable) =
            await JsonBody.ReadAsync<RegistryDocument>(context.Request, null, cancellationToken);
        if (document is null)
        {
            return unreadable!;
        }

        (RegistryOutcome? outcome, IReadOnlyList<FieldProblem> problems) = await writer.PutAsync(document, cancellationToken);
        return outcome is null ? Problems.Invalid(problems) : TypedResults.Ok(outcome);
    }

    private static string CodeOf<T>(RegistryKind<T> kind, HttpContext context) =>
        context.GetRouteValue(kind.Name)?.ToString() ?? string.Empty;
}

/// <summary>Makes documents of snapshots.</summary>
public static class RegistryDocuments
{
    /// <summary>The whole registry as one document.</summary>
    /// <param name="registry">The snapshot.</param>
    public static RegistryDocument Of(RegistrySnapshot registry) => new(
        [.. RegistryKinds.Operators.In(registry)],
        [.. RegistryKinds.Sites.In(registry)],
        [.. RegistryKinds.Models.In(registry)],
        [.. RegistryKinds.Units.In(registry)],
        [.. RegistryKinds.Rules.In(registry)],
        registry.RuleVersionList.Count == 0 ? null : [.. registry.RuleVersionList.Select(version => version.Resource)],
        NullIfEmpty(registry.Plan.SupplierList),
        NullIfEmpty(registry.Plan.PartList),
        NullIfEmpty(registry.Plan.StockPointList),
        registry.Plan.StoredTerms);

    private static IReadOnlyList<T>? NullIfEmpty<T>(IReadOnlyList<T> list) => list.Count == 0 ? null : list;
}
