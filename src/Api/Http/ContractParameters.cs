using Microsoft.OpenApi;

namespace Washwear.Api.Http;

/// <summary>Query parameters that handlers read themselves, so that every mistake in them gets its own answer.</summary>
internal static class ContractParameters
{
    private static readonly (string Name, string Description)[] Page =
    [
        ("limit", "Most rows wanted."), ("after", "Cursor of the page before."), ("format", "json or csv; else the Accept header decides."),
    ];

    private static readonly (string Name, string Description)[] Cleaning =
    [
        ("operator", "Only units of this operator."), ("region", "Only units at sites of this region."),
    ];

    private static readonly (string Name, string Description)[] Fit =
    [
        ("model", "Only units of this model."), ("failure_mode", "Only this mode counts as a failure; others are censored."),
        ("clock", "days, washes or operating_hours."), ("level", "Confidence level of bounds, above 0.5 and below 1."),
        ("format", "json or csv; else the Accept header decides."),
    ];

    private static readonly Dictionary<string, (string Name, string Description)[]> ByOperation = new(StringComparer.Ordinal)
    {
        ["GET v1/operators"] = Page,
        ["GET v1/sites"] = Page,
        ["GET v1/models"] = Page,
        ["GET v1/units"] = Page,
        ["GET v1/rules"] = Page,
        ["GET v1/records"] = [("unit", "Only of this unit."), ("type", "Only of this type."), .. Page],
        ["GET v1/records/refused"] = [("source", "Only of this source."), .. Page],
        ["POST v1/records"] =
        [
            ("type", "Type of the rows of a CSV body."), ("source", "Who sends the records; else the key's name."),
            ("rows", "all: list every row; problems: only those refused or doubted."), ("all_or_nothing", "true: one transaction over the request."),
        ],
        ["GET v1/cleaning/status"] = [("state", "Only units in this state."), .. Cleaning, .. Page],
        ["GET v1/cleaning/compliance"] =
        [
            ("from", "Start of the window, inclusive."), ("to", "End of the window, exclusive; now if left out."),
            ("days", "Length of the window where from is left out; 28."), ("by", "unit, site, operator, model, region or rule."), .. Cleaning, .. Page,
        ],
        ["GET v1/part-life/{position}"] = Fit,
        ["GET v1/part-life/{position}/lives"] = [("model", "Only units of this model."), .. Page],
        ["GET v1/units/{unit}"] = [("format", "json or csv; else the Accept header decides.")],
        ["GET v1/units/{unit}/history"] = Page,
    };

    /// <summary>The query parameters of an operation.</summary>
    /// <param name="method">HTTP method.</param>
    /// <param name="path">Route.</param>
    public static IEnumerable<OpenApiParameter> Of(string method, string path) =>
        ByOperation.GetValueOrDefault(method + " " + path, []).Select(parameter => new OpenApiParameter
        {
            Name = parameter.Name,
            In = ParameterLocation.Query,
            Description = parameter.Description,
            Schema = new OpenApiSchema { Type = parameter.Name == "limit" || parameter.Name == "days" ? JsonSchemaType.Integer : JsonSchemaType.String },
        });
}
