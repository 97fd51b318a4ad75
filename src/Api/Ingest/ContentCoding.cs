using System.IO.Compression;
using System.IO.Pipelines;

namespace Washwear.Api.Ingest;

/// <summary>Opens bodies that came compressed (RFC 9110, section 8.4).</summary>
internal static class ContentCoding
{
    /// <summary>The codings that are read, as the Accept-Encoding header lists them.</summary>
    public const string Accepted = "gzip, br";

    private const int BufferBytes = 64 * 1024;

    /// <summary>The body as it was before it was compressed, read as it arrives.</summary>
    /// <param name="request">The request.</param>
    /// <param name="limitBytes">Most bytes that it may expand to.</param>
    /// <returns>The body, whose reading throws <see cref="UnreadableBodyException"/> where it cannot be expanded; null: it came in
    /// another coding, or in several, one inside the other.</returns>
    public static PipeReader? Open(HttpRequest request, long limitBytes)
    {
        string[] codings = [.. request.Headers.ContentEncoding
            .SelectMany(header => (header ?? string.Empty).Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            .Select(coding => coding.ToLowerInvariant())
            .Where(coding => coding != "identity")];
        if (codings.Length == 0)
        {
            return request.BodyReader;
        }

        var source = new CompressedSource(request.Body);
        Stream? expanded = codings is [var only] ? Expand(only, source) : null;
        return expanded is null
            ? null
            : PipeReader.Create(new ExpandedStream(expanded, source, codings[0], limitBytes), new StreamPipeReaderOptions(bufferSize: BufferBytes));
    }

    private static Stream? Expand(string coding, Stream source) => coding switch
    {
        "gzip" or "x-gzip" => new GZipStream(source, CompressionMode.Decompress),
        "br" => new BrotliStream(source, CompressionMode.Decompress),
        _ => null,
    };
}
