using System.Text;
using Microsoft.Extensions.Primitives;

namespace Washwear.Api.Ingest;

/// <summary>A CloudEvent in binary mode: attributes in headers that begin with ce-, the record as the body.</summary>
/// <param name="Attributes">The attributes.</param>
/// <param name="Text">The headers as they came, a line each, for a refused row.</param>
/// <param name="Problem">What is wrong with the headers; null: nothing.</param>
internal sealed record CloudEventHeaders(CloudEventAttributes Attributes, string Text, RowProblem? Problem)
{
    private const string Prefix = "ce-";

    private static readonly string[] Required = ["ce-specversion", "ce-id", "ce-source", "ce-type"];

    /// <summary>The event of a request; null: it is none.</summary>
    /// <param name="request">The request.</param>
    public static CloudEventHeaders? Of(HttpRequest request)
    {
        if (!Required.Any(request.Headers.ContainsKey))
        {
            return null;
        }

        var text = new StringBuilder();
        RowProblem? problem = null;
        foreach ((string name, StringValues values) in request.Headers)
        {
            if (name.StartsWith(Prefix, StringComparison.OrdinalIgnoreCase))
            {
                text.Append(name.ToLowerInvariant()).Append(": ").AppendJoin(", ", values.ToArray()).Append('\n');
                problem ??= values.Count > 1 ? RowProblems.GivenTwice(name.ToLowerInvariant()) : null;
            }
        }

        text.Append("content-type: ").Append(request.ContentType).Append('\n');
        string? Value(string name) => request.Headers.TryGetValue(name, out StringValues values) ? Decode(values.ToString()) : null;
        var attributes = new CloudEventAttributes(
            Value(Required[0]), Value(Required[1]), Value(Required[2]), Value(Required[3]), Value("ce-time"), request.ContentType, Prefix);
        return new CloudEventHeaders(attributes, text.ToString(), problem);
    }

    // The HTTP binding writes what is no printable ASCII as percent and hexadecimal digits of its UTF-8; quotes are an older way.
    private static string Decode(string value)
    {
        string bare = value is ['"', .., '"'] && value.Length > 1
            ? value[1..^1].Replace("\\\"", "\"", StringComparison.Ordinal).Replace("\\\\", "\\", StringComparison.Ordinal)
            : value;
        return Uri.UnescapeDataString(bare);
    }
}
