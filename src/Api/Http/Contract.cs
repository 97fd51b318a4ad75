using System.Globalization;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Washwear.Api.Security;
using Washwear.Dashboard.Reference;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Http;

/// <summary>The contract: an OpenAPI 3.1 document made from the routes, their types and the documentation comments.</summary>
public static class Contract
{
    /// <summary>Name of the document.</summary>
    public const string Name = "v1";

    private const string Scheme = "bearer";
    private const string JsonType = "application/json";

    private const string Introduction =
        "Takes in what self-washing ovens and the people who keep them report, and answers which ovens go unwashed and why, and how long their parts "
        + "last. JSON in snake_case; instants are RFC 3339 with an offset; codes are the user's own and compared without case. Every list is also "
        + "CSV (Accept: text/csv, or ?format=csv, with &decimal_mark=comma for spreadsheets where decimals have a comma). Failures are problem details (RFC 9457). All examples are invented.";

    /// <summary>Registers the document.</summary>
    /// <param name="services">The services.</param>
    public static void AddContract(this IServiceCollection services) => services.AddOpenApi(Name, options =>
    {
        options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        options.CreateSchemaReferenceId = type => ContractSchemas.NameOf(type) ?? OpenApiOptions.CreateDefaultSchemaReferenceId(type);
        options.AddSchemaTransformer((schema, context, _) =>
        {
            ContractSchemas.Complete(schema, context.JsonTypeInfo);
            return Task.CompletedTask;
        });
        options.AddDocumentTransformer((document, _, _) =>
        {
            Describe(document);
            return Task.CompletedTask;
        });
        options.AddOperationTransformer(CompleteAsync);
    });

    /// <summary>Maps the document and its interactive reference.</summary>
    /// <param name="app">The program.</param>
    public static void MapContract(this WebApplication app)
    {
        app.MapOpenApi("/openapi/{documentName}.json").RequireAbility(Abilities.Read);
        app.MapOpenApi("/openapi/{documentName}.yaml").RequireAbility(Abilities.Read);
        app.MapGet(Urls.Reference, ReferencePage).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    /// <summary>Serves the files of the library that shows the reference to those who are signed in. Its own page has another look and no way back, so its address leads to
    /// ours.</summary>
    /// <param name="app">The pipeline, after authorization.</param>
    public static void UseReference(this IApplicationBuilder app) => app.UseWhen(
        context => context.Request.Path.StartsWithSegments(Urls.Reference, StringComparison.OrdinalIgnoreCase, out PathString rest) && rest.HasValue && rest != "/",
        branch =>
        {
            branch.Use((context, next) =>
            {
                if (context.Request.Path.Value!.EndsWith("/index.html", StringComparison.OrdinalIgnoreCase))
                {
                    context.Response.Redirect(Urls.Reference);
                    return Task.CompletedTask;
                }

                return next(context);
            });
            branch.UseSwaggerUI(ui => ui.RoutePrefix = Urls.Reference.TrimStart('/'));
        });

    private static IResult ReferencePage(HttpContext context, Pages pages, TimeProvider clock)
    {
        SecurityHeaders.AllowInlineStyle(context);
        return pages.Of<ReferencePage>(context, new ReferenceReport($"/openapi/{Name}.json", $"/openapi/{Name}.yaml"), clock.GetUtcNow());
    }

    private static void Describe(OpenApiDocument document)
    {
        document.Info = new OpenApiInfo { Title = "Washwear", Version = Name, Description = Introduction };
        document.Components ??= new OpenApiComponents();
        document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
        {
            [Scheme] = new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description = "A key made by 'keys add'; abilities: read, ingest, manage.",
            },
        };
        document.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(Scheme, document)] = [] }];
        document.Tags = null;
        var ordered = new OpenApiPaths();
        foreach (KeyValuePair<string, IOpenApiPathItem> path in document.Paths.OrderBy(path => path.Key, StringComparer.Ordinal))
        {
            ordered.Add(path.Key, path.Value);
        }

        document.Paths = ordered;
    }

    private static async Task CompleteAsync(
        OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancellationToken)
    {
        string path = (context.Description.RelativePath ?? string.Empty).TrimEnd('/');
        string method = context.Description.HttpMethod ?? "GET";
        operation.OperationId = OperationId(method, path);
        operation.Parameters = ContractParameters.Complete(operation.Parameters, method, path);
        AddExamples(operation, method, path);
        operation.Responses ??= [];
        ContractSchemas.DescribeCsv(operation.Responses);
        await AddProblemsAsync(operation, context, method, path, cancellationToken);
        if (context.Description.ActionDescriptor.EndpointMetadata.OfType<IAllowAnonymous>().Any())
        {
            operation.Security = [];
        }
    }

    private static string OperationId(string method, string path) => method.ToLowerInvariant() + "_" + string.Join(
        '_',
        path.Split('/').Where(part => part != Name).Select(part => part.Trim('{', '}').Split(':')[0].Replace('-', '_')));

    private static void AddExamples(OpenApiOperation operation, string method, string path)
    {
        if (ContractExamples.Request(method, path) is { } request
            && operation.RequestBody?.Content is { } bodies && bodies.TryGetValue(JsonType, out OpenApiMediaType? body))
        {
            body.Example = request;
        }

        foreach ((string status, IOpenApiResponse response) in operation.Responses ?? [])
        {
            if (status is "200" or "201" && ContractExamples.Response(method, path) is { } example
                && response.Content is { } contents && contents.TryGetValue(JsonType, out OpenApiMediaType? json))
            {
                json.Example = example;
            }
        }
    }

    private static async Task AddProblemsAsync(
        OpenApiOperation operation, OpenApiOperationTransformerContext context, string method, string path, CancellationToken cancellationToken)
    {
        OpenApiDocument document = context.Document!;
        document.AddComponent(nameof(Problem), await context.GetOrCreateSchemaAsync(typeof(Problem), null, cancellationToken));
        foreach ((int status, string when) in ContractProblems.Of(method, path, operation.RequestBody is not null))
        {
            operation.Responses![status.ToString(CultureInfo.InvariantCulture)] = new OpenApiResponse
            {
                Description = when,
                Content = new Dictionary<string, OpenApiMediaType>
                {
                    [Problems.ContentType] = new OpenApiMediaType { Schema = new OpenApiSchemaReference(nameof(Problem), document) },
                },
            };
        }
    }
}
