using System.IO.Pipelines;
using Microsoft.Net.Http.Headers;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>The body of a request that sends records, opened by what its headers say of it.</summary>
/// <param name="Format">Its form.</param>
/// <param name="Event">The event that its headers describe; null: none.</param>
/// <param name="Content">The body, expanded.</param>
internal sealed record RecordsBody(BodyFormat Format, CloudEventHeaders? Event, PipeReader Content)
{
    /// <summary>The media types that are read, and which form each is.</summary>
    public static readonly IReadOnlyDictionary<string, BodyFormat> FormatByMediaType = new OrderedDictionary<string, BodyFormat>(StringComparer.OrdinalIgnoreCase)
    {
        ["application/json"] = BodyFormat.Json,
        ["application/x-ndjson"] = BodyFormat.NdJson,
        ["application/jsonl"] = BodyFormat.NdJson,
        ["text/csv"] = BodyFormat.Csv,
        ["application/cloudevents+json"] = BodyFormat.CloudEvents,
        ["application/cloudevents-batch+json"] = BodyFormat.CloudEvents,
    };

    /// <summary>Opens a body.</summary>
    /// <param name="context">The request; the answer's headers say what is read instead if it cannot be opened.</param>
    /// <param name="expandedLimitBytes">Most bytes that a compressed body may expand to.</param>
    /// <param name="problem">Why it cannot be opened.</param>
    /// <returns>The body, or null.</returns>
    public static RecordsBody? Open(HttpContext context, long expandedLimitBytes, out ProblemResult? problem)
    {
        HttpRequest request = context.Request;
        CloudEventHeaders? headers = IsCloudEvents(request) ? null : CloudEventHeaders.Of(request);
        BodyFormat? format = headers is null ? FormatOf(request) : FormatOfData(request);
        problem = format is not null ? null : Refuse(headers is null
            ? "Records are read as " + string.Join(", ", FormatByMediaType.Keys) + "; set Content-Type to what the body is, in UTF-8."
            : "The headers describe a CloudEvent in binary mode, whose body is read as one record in application/json, in UTF-8.");
        if (format is null)
        {
            return null;
        }

        if (ContentCoding.Open(request, expandedLimitBytes) is { } content)
        {
            return new RecordsBody(format.Value, headers, content);
        }

        context.Response.Headers.AcceptEncoding = ContentCoding.Accepted;
        problem = Refuse($"Bodies are read plain or in one of the codings {ContentCoding.Accepted}, never one inside the other; see Accept-Encoding.");
        return null;
    }

    private static ProblemResult Refuse(string detail) => Problems.Status(StatusCodes.Status415UnsupportedMediaType, detail);

    private static bool IsCloudEvents(HttpRequest request) =>
        request.ContentType?.TrimStart().StartsWith("application/cloudevents", StringComparison.OrdinalIgnoreCase) == true;

    private static BodyFormat? FormatOf(HttpRequest request) =>
        MediaTypeHeaderValue.TryParse(request.ContentType, out MediaTypeHeaderValue? type) && IsUtf8(type)
        && FormatByMediaType.TryGetValue(type.MediaType.Value ?? string.Empty, out BodyFormat format)
            ? format
            : null;

    private static BodyFormat? FormatOfData(HttpRequest request) =>
        request.ContentType is { } type && CloudEventAttributes.IsJson(type) && IsUtf8(MediaTypeHeaderValue.Parse(type))
            ? BodyFormat.CloudEventData
            : null;

    // Text in another character set than UTF-8 is not guessed at.
    private static bool IsUtf8(MediaTypeHeaderValue type) =>
        !type.Charset.HasValue || type.Charset.Value!.Trim('"').Equals("utf-8", StringComparison.OrdinalIgnoreCase);
}
