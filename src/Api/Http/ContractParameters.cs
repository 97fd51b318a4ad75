using Microsoft.OpenApi;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Approvals;
using Washwear.Api.Failures;
using Washwear.Api.PartLife;
using Washwear.Api.Repairs;
using Washwear.Api.Today;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Search;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Http;

/// <summary>Query parameters that handlers read themselves, so that every mistake in them gets its own answer.</summary>
internal static class ContractParameters
{
    private static readonly (string Name, string Description)[] Format =
    [
        ("format", "json or csv; else the Accept header decides."),
        ("decimal_mark", "Of CSV: point, as RFC 4180 and programs have it; comma: decimal commas, semicolons between cells and a byte order mark, as spreadsheets open it where decimals have a comma."),
    ];

    private static readonly (string Name, string Description)[] Page =
    [
        ("limit", "Most rows wanted."), ("after", "Cursor of the page before."), .. Format,
    ];

    private static readonly (string Name, string Description)[] Timeline =
    [
        ("kinds", "Kinds wanted, separated by commas: washes, faults, visits, parts, approvals, looks, readings, corrections."), .. Page,
    ];

    private static readonly (string Name, string Description)[] Cleaning =
    [
        ("operator", "Only units of this operator."), ("region", "Only units at sites of this region."), ("site", "Only units at this site."),
        ("model", "Only units of this model."), ("unit", "Only the unit with this asset tag."),
    ];

    private static readonly (string Name, string Description)[] Plan =
    [
        ("operator", "Only units of this operator."), ("site", "Only units at this site."), ("unit", "Only the unit with this asset tag."),
        ("position", "Only this position."), ("stock_point", "Only sites that this stock point serves."),
    ];

    private static readonly (string Name, string Description)[] Fit =
    [
        ("model", "Only units of this model."), ("failure_mode", "Only this mode counts as a failure; others are censored."),
        ("clock", "days, washes or operating_hours; left out: what explains the lives best."), ("by", "Compare groups of lives by this."), ("level", "Confidence level of bounds, above 0.5 and below 1."),
        ("group", "Only parts of this group of by."), ("at", "Ages at which survival is wanted, separated by commas, on the clock."),
        ("bounds", "both: bounds from the observed information beside those of the profile likelihood."),
        ("shape", "A shape from elsewhere, above 0.02 and below 100, for lower bounds with few failures."),
        .. Format,
    ];

    private static readonly (string Name, string Description)[] Failures =
    [
        ("of", "faults: those of one code that follow each other within gap_hours without a repair in between are one; parts: those that failed or were found failed."),
        ("from", "Start of the window, an instant or a date (00:00 UTC), inclusive; a year before its end if left out."),
        ("to", "End of the window, an instant or a date (00:00 UTC), exclusive; now if left out."),
        ("operator", "Only units of this operator."), ("site", "Only units at this site."), ("model", "Only units of this model."),
        ("unit", "Only the unit with this asset tag."), ("position", "Only parts at this position."), ("code", "Only faults of this code."),
        ("gap_hours", "Hours within which another fault belongs to the same failure, 0 to 2160; 72."),
    ];

    private static readonly Dictionary<string, (string Name, string Description)[]> ByOperation = new(StringComparer.Ordinal)
    {
        ["GET v1/today"] = [("for", "Only the lines of this role; all, or left out: everybody's.")],
        ["GET v1/search"] =
        [
            ("q", "Part of a code, serial number, name or text; at most 100 characters."), ("kind", "Only hits of this kind."),
            ("limit", "Most hits of a kind, 1 to 50; 10."),
        ],
        ["GET v1/operators"] = Page,
        ["GET v1/sites"] = Page,
        ["GET v1/models"] = Page,
        ["GET v1/units"] = Page,
        ["GET v1/rules"] = Page,
        ["GET v1/suppliers"] = Page,
        ["GET v1/parts"] = Page,
        ["GET v1/stock-points"] = Page,
        ["GET v1/import/mappings"] = Page,
        ["GET v1/people"] = Page,
        ["GET v1/people/invitations"] = Page,
        ["GET v1/keys"] = Page,
        ["GET v1/sessions"] = Page,
        ["GET v1/audit"] =
        [
            ("from", "Only entries from this instant on."), ("to", "Only entries before this instant."),
            ("caller", "Only what a caller of this name did; the name at that time."),
            ("action", "Only this action, such as approval.decide; or its first word for all that begin with it."),
            ("about", "Only what was about this code, key, number or name."), .. Page,
        ],
        ["GET v1/records"] = [("unit", "Only of this unit."), ("type", "Only of this type."), .. Page],
        ["GET v1/records/refused"] = [("source", "Only of this source."), .. Page],
        ["POST v1/records"] =
        [
            ("type", "Type of the rows of a CSV body."), ("source", "Who sends the records; else the key's name."),
            ("rows", "all: list every row; problems: only those refused or doubted."), ("all_or_nothing", "true: one transaction over the request."),
        ],
        ["GET v1/operators/{operator}/overview"] = Page,
        ["GET v1/operators/{operator}/report"] = [("month", "The month, such as 2026-10; the last one that is over if left out.")],
        ["GET v1/operators/{operator}/timeline"] = Timeline,
        ["GET v1/sites/{site}/timeline"] = Timeline,
        ["GET v1/units/{unit}/timeline"] = Timeline,
        ["GET v1/cleaning/status"] =
        [
            ("state", "Only units in this state."), ("whose_move", "Only units for which it is this one's move."),
            ("unwashed_days", "Only units in service that had no wash that counts for so many days or longer, whatever the reason; descaling is no wash."),
            .. Cleaning, .. Page,
        ],
        ["GET v1/cleaning/compliance"] =
        [
            ("from", "Start of the window, inclusive."), ("to", "End of the window, exclusive; now if left out."),
            ("days", "Length of the window where from is left out; 28."), ("by", "unit, site, operator, model, region or rule."), .. Cleaning, .. Page,
        ],
        ["GET v1/cleaning/trend"] =
        [
            ("weeks", "How many whole weeks, up to the last one that is over; 13."), .. Cleaning, .. Format,
        ],
        ["GET v1/cleaning/early-signs"] = [.. Cleaning, .. Page],
        ["GET v1/failures/trend"] = [.. Failures, .. Format],
        ["GET v1/failures/recurrence"] =
        [
            .. Failures, ("axis", "age: days since commissioning; calendar: days of the window."), ("compare", "A curve for each operator, site, model or region."), .. Format,
        ],
        ["GET v1/failures/rates"] = [.. Failures, ("by", "What a row stands for; unit if left out."), .. Page],
        ["GET v1/failures/repeats"] = [.. Failures, ("window_days", "Days after a repair within which a failure is a repeat, 1 to 730; 90."), .. Page],
        ["GET v1/failures/pareto"] =
        [
            .. Failures, ("pareto", "What a row stands for; position if left out."), ("measure", "What rows are ordered by; count if left out."), .. Format,
        ],
        ["GET v1/failures/records"] = [.. Failures, .. Page],
        ["PUT v1/rules/{rule}"] =
        [
            ("from", "First trading day (yyyy-MM-dd) on which a changed rule holds, or always: it replaces the past too. Left out: the first "
                + "trading day that has begun at no site."),
        ],
        ["GET v1/plan/failures"] = [("days", "Days ahead, 1 to 730; 90."), ("by", "What a row stands for; part_number if left out."), .. Plan, .. Page],
        ["GET v1/plan/replacements"] = [.. Plan, .. Page],
        ["GET v1/plan/calendar.ics"] =
        [
            ("operator", "Only sites of this operator."), ("site", "Only this site."), ("stock_point", "Only sites that this stock point serves."),
        ],
        ["GET v1/plan/calibration"] = Page,
        ["GET v1/plan/companions"] = [.. Plan, .. Page],
        ["GET v1/plan/visits"] = [.. Plan, .. Page],
        ["GET v1/plan/stock"] = [.. Plan, .. Page],
        ["GET v1/plan/failures/parts"] = [.. Plan, .. Page],
        ["GET v1/plan/decisions"] = [.. Plan, .. Page],
        ["GET v1/approvals"] =
        [
            ("state", "Only approvals in this state; all: every one. Left out: open."), ("operator", "Only units of this operator."),
            ("site", "Only units at this site."), ("unit", "Only the unit with this asset tag."), .. Page,
        ],
        ["GET v1/repairs/delays"] =
        [
            ("days", "Days up to now; 90."), ("by", "What a row stands for; operator if left out."), .. Cleaning,
            .. Format,
        ],
        ["GET v1/repairs/quality"] =
        [
            ("operator", "Only units of this operator."), ("days", "Days up to now; 365."),
            ("repeat_days", "Days within which a fault that comes back is a repeat; 30."), .. Format,
        ],
        ["GET v1/repairs/episodes"] =
        [
            ("operator", "Only units of this operator."), ("code", "Only faults of this code."), ("position", "Only faults of this position."),
            ("days", "Days up to now; 365."), ("repeat_days", "Days within which a fault that comes back is a repeat; 30."), .. Page,
        ],
        ["GET v1/alerts"] = [("state", "Only alerts in this state."), .. Page],
        ["GET v1/webhooks"] = Page,
        ["GET v1/webhooks/{webhook}/messages"] = [("state", "Only messages in this state."), .. Page],
        ["GET v1/part-life/{position}"] = Fit,
        ["GET v1/sites/{site}/kitchen"] = Format,
        ["GET v1/part-life/{position}/modes"] = Fit,
        ["GET v1/part-life/{position}/lives"] =
        [
            ("model", "Only units of this model."), ("failure_mode", "Parts that failed of another mode are told as other_mode."),
            ("by", "What group is one of."), ("group", "Only parts of this group of by."), ("kind", "Which parts."), .. Page,
        ],
        ["GET v1/visits/{key}"] = [("source", "Who sent it, where several senders use the key.")],
        ["POST v1/visits/{key}/photos"] = [("source", "Who sent the visit; else the key's name.")],
        ["GET v1/visits/{key}/photos/{number:int}"] = [("source", "Who sent the visit, where several senders use the key.")],
        ["GET v1/units/{unit}"] = Format,
        ["GET v1/units/{unit}/history"] = Page,
        ["GET v1/units/{unit}/visit-sheet"] =
        [
            ("fault", "Code of the fault; left out: the open one that has kept the unit from washing for longest, else any open one, else the last "
                + "lockout of 90 days."),
            ("result", "A check and how it went, as check:pass, check:fail or check:not_done; once for each check."),
            ("certainty", "Probability of one cause at which no further check is proposed, above 0.5 and below 1; 0.9 if left out."),
        ],
    };

    // By name; by operation and name where a name means different things.
    private static readonly Dictionary<string, Func<OpenApiSchema>> SchemaByName = new(StringComparer.Ordinal)
    {
        ["limit"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "1" },
        ["days"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "1" },
        ["unwashed_days"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "1", Maximum = "1100" },
        ["failures of"] = () => ContractSchemas.Words(Enum.GetNames<FailureKind>().Select(Json.Name)),
        ["failures from"] = () => new OpenApiSchema { Type = JsonSchemaType.String },
        ["failures to"] = () => new OpenApiSchema { Type = JsonSchemaType.String },
        ["failures by"] = () => ContractSchemas.Words(Enum.GetNames<RateGroup>().Select(Json.Name)),
        ["failures pareto"] = () => ContractSchemas.Words(Enum.GetNames<ParetoGroup>().Select(Json.Name)),
        ["failures measure"] = () => ContractSchemas.Words(Enum.GetNames<ParetoMeasure>().Select(Json.Name)),
        ["failures axis"] = () => ContractSchemas.Words(Enum.GetNames<RecurrenceAxis>().Select(Json.Name)),
        ["failures compare"] = () => ContractSchemas.Words(FailureQuestions.Compared),
        ["failures gap_hours"] = () => new OpenApiSchema { Type = JsonSchemaType.Number, Minimum = "0", Maximum = "2160" },
        ["failures window_days"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "1", Maximum = "730" },
        ["repeat_days"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "1", Maximum = "365" },
        ["weeks"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "2", Maximum = "104" },
        ["certainty"] = () => new OpenApiSchema { Type = JsonSchemaType.Number, ExclusiveMinimum = "0.5", ExclusiveMaximum = "1" },
        ["GET v1/units/{unit}/visit-sheet result"] = () => new OpenApiSchema
        {
            Type = JsonSchemaType.Array,
            Items = new OpenApiSchema { Type = JsonSchemaType.String },
        },
        ["level"] = () => new OpenApiSchema { Type = JsonSchemaType.Number, ExclusiveMinimum = "0.5", ExclusiveMaximum = "1" },
        ["from"] = () => new OpenApiSchema { Type = JsonSchemaType.String, Format = "date-time" },
        ["to"] = () => new OpenApiSchema { Type = JsonSchemaType.String, Format = "date-time" },
        ["format"] = () => ContractSchemas.Words(["json", "csv"]),
        ["decimal_mark"] = () => ContractSchemas.Words(["point", "comma"]),
        ["GET v1/cleaning/status state"] = () => ContractSchemas.Words(Enum.GetNames<CleaningState>().Select(Json.Name)),
        ["GET v1/today for"] = () => ContractSchemas.Words([.. TodayEndpoints.RoleWords, "all"]),
        ["GET v1/search kind"] = () => ContractSchemas.Words(Enum.GetNames<SearchKind>().Select(Json.Name)),
        ["GET v1/search limit"] = () => new OpenApiSchema { Type = JsonSchemaType.Integer, Minimum = "1", Maximum = "50" },
        ["whose_move"] = () => ContractSchemas.Words(Enum.GetNames<Mover>().Select(Json.Name)),
        ["GET v1/cleaning/compliance by"] = () => ContractSchemas.Words(["unit", "site", "operator", "model", "region", "rule"]),
        ["GET v1/approvals state"] = () => ContractSchemas.Words(ApprovalEndpoints.StateWords),
        ["GET v1/repairs/delays by"] = () => ContractSchemas.Words(DelayReports.GroupingCodes),
        ["GET v1/plan/failures by"] = () => ContractSchemas.Words(Enum.GetNames<ForecastBy>().Select(Json.Name)),
        ["GET v1/alerts state"] = () => ContractSchemas.Words(Enum.GetNames<AlertState>().Select(Json.Name)),
        ["GET v1/webhooks/{webhook}/messages state"] = () => ContractSchemas.Words(Enum.GetNames<MessageState>().Select(Json.Name)),
        ["clock"] = () => ContractSchemas.Words(["days", "washes", "operating_hours"]),
        ["GET v1/part-life/{position} by"] = () => ContractSchemas.Words(LifeComparisons.GroupingCodes),
        ["GET v1/part-life/{position}/modes by"] = () => ContractSchemas.Words(LifeComparisons.GroupingCodes),
        ["GET v1/part-life/{position}/lives by"] = () => ContractSchemas.Words(LifeComparisons.GroupingCodes),
        ["kind"] = () => ContractSchemas.Words(Enum.GetNames<LifeKind>().Select(Json.Name)),
        ["bounds"] = () => ContractSchemas.Words(["profile", "both"]),
        ["shape"] = () => new OpenApiSchema { Type = JsonSchemaType.Number, ExclusiveMinimum = "0.02", ExclusiveMaximum = "100" },
        ["rows"] = () => ContractSchemas.Words(["all", "problems"]),
        ["all_or_nothing"] = () => ContractSchemas.Words(["true", "false"]),
    };

    private static readonly Dictionary<string, string> MeaningOfPart = new(StringComparer.Ordinal)
    {
        ["operator"] = "Code of the operator.",
        ["site"] = "Code of the site.",
        ["model"] = "Code of the model.",
        ["unit"] = "Asset tag of the unit.",
        ["rule"] = "Code of the rule.",
        ["position"] = "Code of the position, such as wash-pump.",
        ["webhook"] = "Code of the webhook.",
        ["mapping"] = "Name of the mapping.",
        ["supplier"] = "Code of the supplier.",
        ["part_number"] = "The part number.",
        ["stock_point"] = "Code of the stock point.",
        ["key"] = "Key of the visit, as its sender gave it.",
        ["number"] = "Place among the visit's photos, from 1.",
        ["id"] = "Number of the row, as its list gives it.",
    };

    /// <summary>All parameters of an operation: those of its path, then those of its query.</summary>
    /// <param name="known">Parameters that the handler declares.</param>
    /// <param name="method">HTTP method.</param>
    /// <param name="path">Route.</param>
    public static IList<IOpenApiParameter>? Complete(IList<IOpenApiParameter>? known, string method, string path)
    {
        List<IOpenApiParameter> all = [.. PathParts(path).Select(OfPath)];
        all.AddRange((known ?? []).Where(parameter => parameter.In != ParameterLocation.Path));
        all.AddRange(ByOperation.GetValueOrDefault(method + " " + path, [])
            .Where(parameter => !all.Any(other => other.Name == parameter.Name && other.In == ParameterLocation.Query))
            .Select(parameter => OfQuery(parameter, method + " " + path)));
        return all.Count == 0 ? null : all;
    }

    private static IEnumerable<string> PathParts(string path) =>
        path.Split('/').Where(part => part.StartsWith('{')).Select(part => part.Trim('{', '}'));

    private static OpenApiParameter OfPath(string part)
    {
        string[] nameAndRule = part.Split(':');
        return new OpenApiParameter
        {
            Name = nameAndRule[0],
            In = ParameterLocation.Path,
            Required = true,
            Description = MeaningOfPart.GetValueOrDefault(nameAndRule[0]),
            Schema = nameAndRule.Length > 1
                ? new OpenApiSchema { Type = JsonSchemaType.Integer, Format = "int64" }
                : new OpenApiSchema { Type = JsonSchemaType.String },
        };
    }

    // The questions about failures share the names of what they ask for.
    private static string PlaceOf(string operation) => operation.StartsWith("GET v1/failures/", StringComparison.Ordinal) ? "failures" : operation;

    private static OpenApiParameter OfQuery((string Name, string Description) parameter, string operation) => new()
    {
        Name = parameter.Name,
        In = ParameterLocation.Query,
        Description = parameter.Description,
        Schema = (SchemaByName.GetValueOrDefault(PlaceOf(operation) + " " + parameter.Name) ?? SchemaByName.GetValueOrDefault(parameter.Name))?.Invoke()
            ?? new OpenApiSchema { Type = JsonSchemaType.String },
    };
}
