using System.Net;
using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>What became of one request.</summary>
/// <param name="Status">HTTP status; 0: no answer.</param>
/// <param name="Accepted">Rows that were said to be accepted.</param>
/// <param name="Fault">What is wrong with the answer; null: nothing.</param>
public readonly record struct Verdict(int Status, long Accepted, string? Fault)
{
    private const string ProblemType = "application/problem+json";

    /// <summary>Sends a case and judges the answer.</summary>
    /// <param name="client">The client; its timeout is the deadline.</param>
    /// <param name="fuzzed">The case.</param>
    /// <param name="contract">The contract.</param>
    public static async Task<Verdict> OfAsync(HttpClient client, FuzzCase fuzzed, Contract contract)
    {
        try
        {
            using HttpRequestMessage request = fuzzed.ToRequest();
            using HttpResponseMessage answer = await client.SendAsync(request);
            byte[] body = await answer.Content.ReadAsByteArrayAsync();
            return Judge(fuzzed, contract, (int)answer.StatusCode, answer.Content.Headers.ContentType?.MediaType, body);
        }
        catch (TaskCanceledException)
        {
            return new Verdict(0, 0, "no answer before the deadline");
        }
        catch (HttpRequestException error)
        {
            return new Verdict(0, 0, $"no answer: {error.HttpRequestError}: {error.InnerException?.Message ?? error.Message}");
        }
    }

    private static Verdict Judge(FuzzCase fuzzed, Contract contract, int status, string? mediaType, byte[] body)
    {
        string? fault = status >= 500 ? $"status {status}: {System.Text.Encoding.UTF8.GetString(body[..Math.Min(body.Length, 300)])}" : null;
        bool isFormsOwn = status == 422 && fuzzed.Operation is null && mediaType == "application/json";
        if (mediaType is null && body.Length == 0 && status is (400 or 414 or 431))
        {
            // The server itself turned a request line or header away, before the program saw a request.
            return new Verdict(status, 0, null);
        }

        if (status >= 400 && fault is null && mediaType != "text/html" && !isFormsOwn)
        {
            fault = ProblemFault(status, mediaType, body);
        }

        if (fault is null && fuzzed.Operation is { } name && contract.Operations.TryGetValue(name, out Operation? operation))
        {
            fault = Undeclared(operation, status, mediaType);
        }

        long accepted = 0;
        if (fuzzed.Operation == "POST /v1/records" && status == (int)HttpStatusCode.OK)
        {
            fault ??= AnswerFault(body, out accepted);
        }

        return new Verdict(status, accepted, fault);
    }

    // The segment of a route may match another one, or none, and pages answer people who ask for HTML.
    private static string? Undeclared(Operation operation, int status, string? mediaType)
    {
        if (status is 304 or 404 or 405 || mediaType == "text/html")
        {
            return null;
        }

        return !operation.Answers.TryGetValue(status, out IReadOnlyList<string>? types) ? $"status {status} is not declared"
            : types.Count > 0 && !types.Contains(mediaType ?? string.Empty) ? $"status {status} came as '{mediaType}', declared is {string.Join(", ", types)}"
            : null;
    }

    private static string? ProblemFault(int status, string? mediaType, byte[] body)
    {
        if (mediaType != ProblemType)
        {
            return $"status {status} came as '{mediaType}' with {body.Length} bytes, not as a problem";
        }

        JsonElement problem = JsonDocument.Parse(body).RootElement;
        string? lacking = ((string[])["type", "title", "detail", "trace_id"]).FirstOrDefault(member => !HasText(problem, member));
        if (lacking is not null || problem.GetProperty("status").GetInt32() != status)
        {
            return $"the problem of status {status} lacks {lacking ?? "its status"}";
        }

        return problem.TryGetProperty("errors", out JsonElement errors)
            && errors.EnumerateArray().Any(error => !HasText(error, "rule") || !HasText(error, "detail") || !HasText(error, "mend"))
            ? "an error lacks its rule, detail or mend" : null;
    }

    private static string? AnswerFault(byte[] body, out long accepted)
    {
        JsonElement answer = JsonDocument.Parse(body).RootElement;
        accepted = answer.GetProperty("accepted").GetInt64();
        JsonElement[] rows = [.. answer.GetProperty("rows").EnumerateArray()];
        JsonElement[] refused = [.. rows.Where(row => row.GetProperty("outcome").GetString() == "refused")];
        if (refused.Length + answer.GetProperty("rows_left_out").GetInt32() < answer.GetProperty("refused").GetInt32())
        {
            return "fewer refused rows are listed than counted";
        }

        return refused.Any(row => row.GetProperty("problem") is not { ValueKind: JsonValueKind.Object } problem || !HasText(problem, "rule") || !HasText(problem, "detail") || !HasText(problem, "mend"))
            ? "a refused row lacks its rule, detail or mend" : null;
    }

    private static bool HasText(JsonElement element, string member) =>
        element.TryGetProperty(member, out JsonElement value) && value.ValueKind == JsonValueKind.String && value.GetString()!.Length > 0;
}
