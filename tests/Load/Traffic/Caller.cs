using System.Diagnostics;
using System.Net.Http.Headers;
using System.Text;

namespace Washwear.Load.Traffic;

/// <summary>Sends requests over connections that are kept open. Safe for concurrent use.</summary>
internal sealed class Caller : IDisposable
{
    // The server closes a connection that was idle for 130 s; this side is first, so that no request meets a closed one.
    private static readonly TimeSpan IdleAtMost = TimeSpan.FromSeconds(100);
    private readonly HttpClient _client;

    /// <summary>Makes one.</summary>
    /// <param name="address">The server.</param>
    /// <param name="connections">Most connections at once.</param>
    /// <param name="patience">How long an answer is waited for.</param>
    public Caller(Uri address, int connections, TimeSpan patience)
    {
        Patience = patience;
        _client = new HttpClient(new SocketsHttpHandler
        {
            MaxConnectionsPerServer = connections,
            PooledConnectionIdleTimeout = IdleAtMost,
            UseCookies = false,
            UseProxy = false,
            AllowAutoRedirect = false,
        })
        {
            BaseAddress = address,
            Timeout = patience,
        };
    }

    /// <summary>How long an answer is waited for.</summary>
    public TimeSpan Patience { get; }

    /// <summary>Sends a request and reads the whole answer.</summary>
    /// <param name="call">The request.</param>
    /// <param name="due">Timestamp of the moment at which it was due; null: now.</param>
    /// <returns>What came of it; a request without an answer is no exception.</returns>
    public async Task<Answer> SendAsync(Call call, long? due = null)
    {
        long start = due ?? Stopwatch.GetTimestamp();
        try
        {
            using HttpRequestMessage request = RequestOf(call);
            using HttpResponseMessage answer = await _client.SendAsync(request);
            byte[] body = await answer.Content.ReadAsByteArrayAsync();
            return new Answer(
                (int)answer.StatusCode, body, Stopwatch.GetElapsedTime(start).TotalMilliseconds, answer.Headers.RetryAfter is not null,
                answer.Headers.Contains("Idempotency-Replayed"));
        }
        catch (Exception error) when (error is HttpRequestException or IOException or OperationCanceledException)
        {
            string why = error.GetType().Name + ": " + error.GetBaseException().Message;
            return new Answer(0, Encoding.UTF8.GetBytes(why), Stopwatch.GetElapsedTime(start).TotalMilliseconds, false, false);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _client.Dispose();

    private static HttpRequestMessage RequestOf(Call call)
    {
        var request = new HttpRequestMessage(call.Method, call.Path);
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", call.Secret);
        if (call.RequestKey is { } key)
        {
            request.Headers.TryAddWithoutValidation("Idempotency-Key", $"\"{key}\"");
        }

        if (call.Body is { } body)
        {
            request.Content = new ByteArrayContent(body);
            request.Content.Headers.ContentType = new MediaTypeHeaderValue(call.MediaType ?? "application/json");
        }

        return request;
    }
}
