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
            return Read<T>(document.RootElement, implied);
        }
        catch (JsonException error)
        {
            return new(null, NotJson(error));
        }
        catch (InvalidOperationException)
        {
            return new(null, NotText());
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
            return Read<T>(document.RootElement, null);
        }
        catch (JsonException error)
        {
            return new(null, NotJson(error));
        }
        catch (InvalidOperationException)
        {
            return new(null, NotText());
        }
    }

    // The check comes before anything is written anew: text that is no text would be mended silently.
    private static BodyRead<T> Read<T>(JsonElement root, (string Field, string Value)? implied)
        where T : class
    {
        FieldProblem[] problems = [.. JsonShape.Check(root, typeof(T)).Where(problem => !(problem.Rule == "required" && problem.Field == implied?.Field))];
        return problems.Length > 0
            ? new(null, Problems.Invalid(problems))
            : new((implied is { } field ? Complete(root, field) : root).Deserialize<T>(Json.Options), null);
    }

    private static JsonElement Complete(JsonElement root, (string Field, string Value) implied)
    {
        JsonObject completed = JsonObject.Create(root)!;
        completed.TryAdd(implied.Field, implied.Value);
        return JsonSerializer.SerializeToElement(completed, Json.Options);
    }

    // Bytes that are not UTF-8, or half a surrogate pair, are found only when a name or a value is read.
    private static ProblemResult NotText() => Problems.Status(
        StatusCodes.Status400BadRequest, "A name or a value in the body is not valid text. Send it as UTF-8, with whole characters.");

    private static ProblemResult NotJson(JsonException error) => Problems.Status(
        StatusCodes.Status400BadRequest,
        FormattableString.Invariant($"The body is not valid JSON, or names a field twice, at line {error.LineNumber + 1 ?? 1}")
        + FormattableString.Invariant($", byte {error.BytePositionInLine + 1 ?? 1}."));
}
