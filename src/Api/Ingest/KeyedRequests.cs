using System.Collections.Concurrent;
using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>
/// Requests with an Idempotency-Key: the first is taken in and its answer kept; the same request again gets that answer, another under the same
/// key is refused. Nothing is kept of a request that broke off or took nothing in: it can be sent again. Safe for concurrent use.
/// </summary>
/// <param name="queries">The answers that are kept.</param>
/// <param name="settings">For how long.</param>
/// <param name="clock">The clock.</param>
internal sealed class KeyedRequests(RequestKeyQueries queries, Settings settings, TimeProvider clock)
{
    private const string AnswerType = "application/json; charset=utf-8";

    // What a request that was cut off by the end of the program had claimed is free again at the next start.
    private readonly ConcurrentDictionary<RequestKey, byte> _running = new();

    /// <summary>The body of an answer, byte for byte as it is kept.</summary>
    /// <param name="answer">The answer.</param>
    public static byte[] BodyOf(IngestAnswer answer) => JsonSerializer.SerializeToUtf8Bytes(answer, Json.Options);

    /// <summary>Answers a request.</summary>
    /// <param name="context">The request.</param>
    /// <param name="request">The request, with its key.</param>
    /// <param name="retryAfterSeconds">When it may be sent again while the first is still running, whole seconds.</param>
    /// <param name="takeIn">Takes it in.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IResult> AnswerAsync(
        HttpContext context, KeyedRequest request, int retryAfterSeconds, Func<Task<IngestAnswer>> takeIn, CancellationToken cancellationToken)
    {
        if (!_running.TryAdd(request.Key, 0))
        {
            return StillRunning(context, retryAfterSeconds);
        }

        try
        {
            if (await queries.FindAsync(request.Key, clock.GetUtcNow() - settings.IdempotencyKeyLasts, cancellationToken) is { } kept)
            {
                return Again(context, kept, await request.Body.HashToEndAsync(cancellationToken));
            }

            IngestAnswer answer = await takeIn();
            return TypedResults.Bytes(BodyOf(answer), AnswerType);
        }
        finally
        {
            _running.TryRemove(request.Key, out _);
        }
    }

    /// <summary>Forgets answers that are not kept any more.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task ForgetAsync(CancellationToken cancellationToken)
    {
        while (await queries.ForgetAsync(clock.GetUtcNow() - settings.IdempotencyKeyLasts, cancellationToken) > 0)
        {
        }
    }

    private static IResult Again(HttpContext context, KeptAnswer kept, byte[] hash)
    {
        if (!CryptographicOperations.FixedTimeEquals(kept.ContentHash, hash))
        {
            return Problems.Status(
                StatusCodes.Status422UnprocessableEntity,
                "This key came with another request before. Nothing of this one was taken in: send it with a key of its own.");
        }

        context.Response.Headers[RequestKey.ReplayedHeader] = "true";
        context.Response.StatusCode = (int)kept.Status;
        return TypedResults.Bytes(kept.Answer, AnswerType);
    }

    private static ProblemResult StillRunning(HttpContext context, int seconds)
    {
        context.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        return Problems.Status(
            StatusCodes.Status409Conflict,
            "A request with this key is still being taken in. Send it again after Retry-After to get its answer.");
    }
}
