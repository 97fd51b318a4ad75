using Microsoft.Net.Http.Headers;

namespace Washwear.Api.Http;

/// <summary>In which form an answer is wanted: ?format=csv or json, else the Accept header, else JSON.</summary>
public static class Formats
{
    private const string CsvType = "text/csv";
    private const string JsonType = "application/json";

    /// <summary>Answers with a list as JSON or CSV, and links its next page.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="context">The request.</param>
    /// <param name="page">The page.</param>
    /// <param name="columns">Columns of the CSV form.</param>
    public static IResult List<T>(HttpContext context, PageOf<T> page, IReadOnlyList<CsvColumn<T>> columns) =>
        Report(context, page, page.Items, page.Next, columns);

    /// <summary>Answers with a report as JSON, or with its rows as CSV, and links its next page.</summary>
    /// <typeparam name="TReport">The report.</typeparam>
    /// <typeparam name="TRow">A row of it.</typeparam>
    /// <param name="context">The request.</param>
    /// <param name="report">The report.</param>
    /// <param name="rows">Its rows.</param>
    /// <param name="next">Cursor of the next page; null: this is the last, or there are no pages.</param>
    /// <param name="columns">Columns of the CSV form.</param>
    public static IResult Report<TReport, TRow>(
        HttpContext context, TReport report, IEnumerable<TRow> rows, string? next, IReadOnlyList<CsvColumn<TRow>> columns)
    {
        string format = context.Request.Query["format"].ToString();
        if (format is not ("" or "json" or "csv"))
        {
            return Problems.Invalid("format", "choice", $"'{format}' is not a form of this list.", "Give json or csv, or leave format out.");
        }

        Paging.LinkNext(context, next);
        context.Response.Headers.Vary = "Accept";
        return format == "csv" || (format.Length == 0 && PrefersCsv(context.Request)) ? Csv.Result(context.Request, columns, rows) : TypedResults.Ok(report);
    }

    /// <summary>Whether a page's list is wanted as a file instead: ?format=csv.</summary>
    /// <param name="request">The request.</param>
    public static bool IsFile(HttpRequest request) => request.Query["format"] == "csv";

    /// <summary>Declares that a route answers with a list, as JSON or as CSV.</summary>
    /// <typeparam name="T">What the JSON form holds.</typeparam>
    /// <param name="route">The route.</param>
    public static RouteHandlerBuilder ProducesList<T>(this RouteHandlerBuilder route) =>
        route.Produces<T>(StatusCodes.Status200OK, JsonType, CsvType);

    /// <summary>Refuses early (406) what an endpoint cannot answer in any form that the caller takes.</summary>
    /// <param name="app">The pipeline, after routing.</param>
    public static void UseAccept(this IApplicationBuilder app) => app.Use((context, next) =>
        CanAnswer(context) ? next(context) : Problems.Status(StatusCodes.Status406NotAcceptable).ExecuteAsync(context));

    private static bool CanAnswer(HttpContext context)
    {
        string[] offered = [.. (context.GetEndpoint()?.Metadata.GetOrderedMetadata<Microsoft.AspNetCore.Http.Metadata.IProducesResponseTypeMetadata>() ?? [])
            .Where(metadata => metadata.StatusCode is 200 or 201)
            .SelectMany(metadata => metadata.ContentTypes)];
        IList<MediaTypeHeaderValue> wanted = context.Request.GetTypedHeaders().Accept;
        return offered.Length == 0
            || wanted.Count == 0
            || context.Request.Query.ContainsKey("format")
            || wanted.Any(range => range.Quality is not 0 && offered.Any(type => new MediaTypeHeaderValue(type).IsSubsetOf(Bare(range))));
    }

    private static bool PrefersCsv(HttpRequest request)
    {
        IList<MediaTypeHeaderValue> wanted = request.GetTypedHeaders().Accept;
        return Quality(wanted, CsvType) > Quality(wanted, JsonType);
    }

    // The most specific range that covers a type decides, as RFC 9110 has it.
    private static double Quality(IList<MediaTypeHeaderValue> wanted, string type) => wanted
        .Where(range => new MediaTypeHeaderValue(type).IsSubsetOf(Bare(range)))
        .OrderBy(range => range.MatchesAllTypes ? 2 : range.MatchesAllSubTypes ? 1 : 0)
        .Select(range => range.Quality ?? 1)
        .FirstOrDefault();

    private static MediaTypeHeaderValue Bare(MediaTypeHeaderValue range) => new(range.MediaType);
}
