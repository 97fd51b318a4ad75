using System.Text.Json;
using System.Text.Json.Nodes;

namespace Washwear.Api.Http;

/// <summary>What a request's body held, or why it could not be read.</summary>
/// <typeparam name="T">What it should hold.</typeparam>
/// <param name="Value">The value; null when there is a problem.</param>
/// <param name="Problem">The problem; null when there is a value.</param>
public sealed record BodyRead<T>(T? Value, ProblemResult? Problem)
    where T : class;

/// <summary>Reads JSON bodies so that every mistake is named at once.</summary>
public static class JsonBody
{
    private static readonly JsonDocumentOptions Strict = new() { AllowDuplicateProperties = false, MaxDepth = 32 };

    /// <summary>Reads a body.</summary>
    /// <typeparam name="T">What it should hold.</typeparam>
    /// <param name="request">The request.</param>
    /// <param name="implied">A field that the address gives already and the body may leave out; null: none.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<BodyRead<T>> ReadAsync<T>(
        HttpRequest request, (string Field, string Value)? implied, CancellationToken cancellationToken)
        where T : class
    {
        if (!request.HasJsonContentType())
        {
            return new(null, Problems.Status(StatusCodes.Status415UnsupportedMediaType, "Send JSON, with 'Content-Type: application/json'."));
        }

        try
        {
            using JsonDocument document = await JsonDocument.ParseAsync(request.Body, Strict, cancellationToken);
            JsonElement root = implied is { } field ? Complete(document.RootElement, field) : document.RootElement;
            return Read<T>(root);
        }
        catch (JsonException error)
        {
            return new(null, NotJson(error));
        }
    }

    /// <summary>Reads a document that does not come by HTTP.</summary>
    /// <typeparam name="T">What it should hold.</typeparam>
    /// <param name="stream">The document.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<BodyRead<T>> ReadAsync<T>(Stream stream, CancellationToken cancellationToken)
        where T : class
    {
        try
        {
            using JsonDocument document = await JsonDocument.ParseAsync(stream, Strict, cancellationToken);
            return Read<T>(document.RootElement);
        }
        catch (JsonException error)
        {
            return new(null, NotJson(error));
        }
    }

    private static BodyRead<T> Read<T>(JsonElement root)
        where T : class
    {
        IReadOnlyList<FieldProblem> problems = JsonShape.Check(root, typeof(T));
        return problems.Count > 0 ? new(null, Problems.Invalid(problems)) : new(root.Deserialize<T>(Json.Options), null);
    }

    private static JsonElement Complete(JsonElement root, (string Field, string Value) implied)
    {
        if (root.ValueKind != JsonValueKind.Object || root.TryGetProperty(implied.Field, out _))
        {
            return root;
        }

        JsonObject completed = JsonObject.Create(root)!;
        try
        {
            completed.Add(implied.Field, implied.Value);
        }
        catch (InvalidOperationException)
        {
            // A name that is no text; the check names it.
            return root;
        }

        return JsonSerializer.SerializeToElement(completed, Json.Options);
    }

    private static ProblemResult NotJson(JsonException error) => Problems.Status(
        StatusCodes.Status400BadRequest,
        FormattableString.Invariant($"The body is not valid JSON, or names a field twice, at line {error.LineNumber + 1 ?? 1}")
        + FormattableString.Invariant($", byte {error.BytePositionInLine + 1 ?? 1}."));
}
