using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>Describes in the contract what each type of record holds; bodies are read row by row, so no handler names these types.</summary>
internal static class RecordContract
{
    private const string RecordName = "Record";
    private const string EventName = "CloudEvent";

    /// <summary>Describes the bodies of the one way in.</summary>
    /// <param name="operation">An operation.</param>
    /// <param name="context">Where it belongs.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public static async Task DescribeAsync(
        OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancellationToken)
    {
        if (context.Description is not { HttpMethod: "POST", RelativePath: "v1/records" } || operation.RequestBody?.Content is not { } bodies)
        {
            return;
        }

        DescribeKey(operation);
        OpenApiDocument document = context.Document!;
        var any = new OpenApiSchema { Description = "A record of one of the types.", OneOf = [] };
        foreach (string type in RecordFields.Types)
        {
            Type shape = ShapeOf(type);
            OpenApiSchema schema = Complete(await context.GetOrCreateSchemaAsync(shape, null, cancellationToken), shape, type);
            await DescribeChoicesAsync(schema, shape, context, cancellationToken);
            document.AddComponent(shape.Name, schema);
            any.OneOf.Add(new OpenApiSchemaReference(shape.Name, document));
        }

        document.AddComponent(RecordName, any);
        document.AddComponent(EventName, Event());
        var record = new OpenApiSchemaReference(RecordName, document);
        var cloudEvent = new OpenApiSchemaReference(EventName, document);
        foreach ((string mediaType, OpenApiMediaType body) in bodies)
        {
            body.Schema = mediaType switch
            {
                "application/json" => new OpenApiSchema
                {
                    OneOf = [record, new OpenApiSchema { Type = JsonSchemaType.Array, Items = record }],
                },
                "application/cloudevents+json" => cloudEvent,
                "application/cloudevents-batch+json" => new OpenApiSchema { Type = JsonSchemaType.Array, Items = cloudEvent },
                "text/csv" => Text("RFC 4180 with a header; nested fields dotted, such as removed.reason; lists as JSON in their cell."),
                _ => Text("One record as JSON on each line."),
            };
        }
    }

    private static void DescribeKey(OpenApiOperation operation)
    {
        (operation.Parameters ??= []).Add(new OpenApiParameter
        {
            Name = RequestKey.Header,
            In = ParameterLocation.Header,
            Description = "A key of 1 to 255 printable ASCII characters for the whole request, best a random UUID: the same request with the same "
                + "key gets the answer of the first time again, for idempotency_key_days.",
            Schema = new OpenApiSchema { Type = JsonSchemaType.String },
        });
        if (operation.Responses?["200"] is OpenApiResponse answer)
        {
            answer.Headers ??= new Dictionary<string, IOpenApiHeader>();
            answer.Headers[RequestKey.ReplayedHeader] = new OpenApiHeader
            {
                Description = "true: the answer that the first request with this key was given; nothing was taken in this time.",
                Schema = new OpenApiSchema { Type = JsonSchemaType.String },
            };
        }
    }

    // A type of record is named after its class.
    private static Type ShapeOf(string type) =>
        Array.Find(typeof(IncomingRecord).Assembly.GetTypes(), shape =>
            shape.IsSubclassOf(typeof(IncomingRecord)) && Json.Name(shape.Name) == type + "_record")
        ?? throw new InvalidOperationException($"No record class for type '{type}'.");

    private static OpenApiSchema Complete(OpenApiSchema schema, Type shape, string type)
    {
        var fields = new Dictionary<string, IOpenApiSchema>
        {
            ["type"] = new OpenApiSchema { Type = JsonSchemaType.String, Enum = [JsonValue.Create(type)], Description = "Type of the record." },
        };
        foreach (string name in RecordFields.Names.Where(name => (RecordFields.Allowed[type] & RecordFields.Mask(RecordFields.ByName[name])) != 0))
        {
            if (schema.Properties?.TryGetValue(name, out IOpenApiSchema? field) == true)
            {
                fields.Add(name, field);
            }
        }

        schema.Properties = fields;
        RequireWhatCannotBeNull(schema, shape);
        schema.Required!.Add("type");
        schema.Required.Remove("source");
        if (type is "visit" or "approval")
        {
            // It follows from the instants that they name.
            schema.Required.Remove("at");
        }

        return schema;
    }

    // An enumeration that may be null loses the description of its type on the way.
    private static async Task DescribeChoicesAsync(
        OpenApiSchema schema, Type shape, OpenApiOperationTransformerContext context, CancellationToken cancellationToken)
    {
        foreach (JsonPropertyInfo property in Json.Options.GetTypeInfo(shape).Properties)
        {
            if (Nullable.GetUnderlyingType(property.PropertyType) is { IsEnum: true } choices
                && schema.Properties!.TryGetValue(property.Name, out IOpenApiSchema? field) && field.Description is null)
            {
                field.Description = (await context.GetOrCreateSchemaAsync(choices, null, cancellationToken)).Description;
            }
        }
    }

    // What may be null may as well be left out.
    private static void RequireWhatCannotBeNull(OpenApiSchema schema, Type shape)
    {
        JsonPropertyInfo[] properties = [.. Json.Options.GetTypeInfo(shape).Properties.Where(property => schema.Properties!.ContainsKey(property.Name))];
        schema.Required = properties.Where(property => !Json.MayBeNull(property)).Select(property => property.Name).ToHashSet();
        foreach (JsonPropertyInfo property in properties)
        {
            if (schema.Properties![property.Name] is not OpenApiSchema { Properties.Count: > 0 } nested)
            {
                continue;
            }

            RequireWhatCannotBeNull(nested, property.PropertyType);
            if (Json.MayBeNull(property))
            {
                nested.Type |= JsonSchemaType.Null;
            }
        }
    }

    private static OpenApiSchema Event() => new()
    {
        Type = JsonSchemaType.Object,
        Description = "A CloudEvent 1.0 around a record, as JSON; binary mode sends the attributes as headers that begin with ce-.",
        Properties = new Dictionary<string, IOpenApiSchema>
        {
            ["specversion"] = new OpenApiSchema { Type = JsonSchemaType.String, Enum = [JsonValue.Create("1.0")], Description = "Version." },
            ["id"] = Text("Stands in for key: unique within the source."),
            ["source"] = Text("Stands in for the record's source, unless ?source names it: 1 to 64 printable characters then."),
            ["type"] = Text("Its last segment (not counting a version such as v2) stands in for type, unless ?type names it: com.example.wash."),
            ["time"] = new OpenApiSchema
            {
                Type = JsonSchemaType.String,
                Format = "date-time",
                Description = "Stands in for at where the record names no instant of its own.",
            },
            ["datacontenttype"] = Text("application/json, or left out."),
            ["data"] = new OpenApiSchema
            {
                Type = JsonSchemaType.Object,
                Description = "The record, as Record has it; what the attributes say can be left out of it.",
            },
        },
        Required = new HashSet<string> { "specversion", "id", "source", "type", "data" },
    };

    private static OpenApiSchema Text(string description) => new() { Type = JsonSchemaType.String, Description = description };
}
