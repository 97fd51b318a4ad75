using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;

namespace Washwear.Api.Import;

/// <summary>Addresses of remembered mappings.</summary>
internal static class MappingEndpoints
{
    private static readonly CsvColumn<NamedMapping>[] Columns =
    [
        new("mapping", row => row.Mapping),
        new("kind", row => row.Reads.Kind),
        new("columns", row => string.Join("; ", row.Reads.Columns.Where(column => column.Field is not null).Select(column => $"{column.Heading} = {column.Field}"))),
        new("changed_at", row => row.ChangedAt),
    ];

    public static void Map(IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder group = routes.MapGroup("/v1/import/mappings").RequireAbility(Abilities.Ingest).RequireWholeFleet().WithTags("Import");
        group.MapGet(string.Empty, ListAsync)
            .ProducesList<PageOf<NamedMapping>>()
            .WithSummary("List remembered mappings")
            .WithDescription("How spreadsheets are read: which column holds what, which words mean what. In the order of their names.");
        group.MapGet("/{mapping}", GetAsync)
            .Produces<NamedMapping>()
            .WithSummary("One remembered mapping")
            .WithDescription("What the import command takes with --mapping, and the page /import offers under its name.");
        group.MapPut("/{mapping}", PutAsync)
            .Audited("mapping.put")
            .Accepts<MappingResource>("application/json")
            .Produces<NamedMapping>()
            .Produces<NamedMapping>(StatusCodes.Status201Created)
            .WithSummary("Remember a mapping")
            .WithDescription(
                "Creates it (201) or replaces it (200). Columns are known again by their headings, without case, accents and separators. Fields are those of the "
                + "kind, and beside them FIELD.time for a time of day in a column of its own, ended_at.minutes and left_at.minutes for a length, and "
                + "finding.position, finding.failure_mode, finding.cause for what a visit found. For operator, site, model and unit the ability manage is needed as well.");
        group.MapDelete("/{mapping}", DeleteAsync)
            .Audited("mapping.delete")
            .Produces(StatusCodes.Status204NoContent)
            .WithSummary("Forget a mapping")
            .WithDescription("What was imported with it stays.");
    }

    private static async Task<IResult> ListAsync(HttpContext context, MappingQueries queries, Settings settings, CancellationToken cancellationToken) =>
        Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem
            ? problem
            : Formats.List(context, Paging.Take((await queries.ListAsync(cancellationToken)).OrderBy(row => Codes.Key(row.Mapping), StringComparer.Ordinal), row => Codes.Key(row.Mapping), page), Columns);

    private static async Task<IResult> GetAsync(string mapping, MappingQueries queries, CancellationToken cancellationToken) =>
        await queries.FindAsync(mapping, cancellationToken) is { } found ? TypedResults.Ok(found) : Problems.NotFound("mapping", mapping);

    private static async Task<IResult> PutAsync(string mapping, HttpContext context, MappingQueries queries, CancellationToken cancellationToken)
    {
        (MappingResource? resource, ProblemResult? unreadable) = await JsonBody.ReadAsync<MappingResource>(context.Request, ("mapping", mapping), cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        if (Codes.Key(resource.Mapping) != Codes.Key(mapping))
        {
            return Problems.Invalid(
                "mapping", "same_as_address", $"The body says '{resource.Mapping}', the address says '{mapping}'.", "Make them the same, or leave the field out of the body.");
        }

        if (!Codes.IsValid(mapping))
        {
            return Problems.Invalid("mapping", "code", "A name has 1 to 64 printable characters and no space at its ends.", "Choose another name.");
        }

        FieldProblem[] problems = [.. MappingRules.Check(resource.Reads).Select(problem => problem with { Field = "reads." + problem.Field })];
        if (problems.Length > 0)
        {
            return Problems.Invalid(problems);
        }

        if (resource.Reads.KindOfRows.IsRegistry && !context.User.May(Abilities.Manage))
        {
            return Problems.Status(StatusCodes.Status403Forbidden, "Sheets of the registry need the ability manage.");
        }

        bool isNew = await queries.PutAsync(mapping, resource.Reads, cancellationToken);
        NamedMapping put = (await queries.FindAsync(mapping, cancellationToken))!;
        return isNew ? TypedResults.Created($"/v1/import/mappings/{Uri.EscapeDataString(mapping)}", put) : TypedResults.Ok(put);
    }

    private static async Task<IResult> DeleteAsync(string mapping, MappingQueries queries, CancellationToken cancellationToken) =>
        await queries.DeleteAsync(mapping, cancellationToken) ? TypedResults.NoContent() : Problems.NotFound("mapping", mapping);
}
