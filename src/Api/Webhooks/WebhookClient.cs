using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Washwear.Api.Webhooks;

/// <summary>What an attempt met.</summary>
/// <param name="Status">HTTP status; null: there was no answer.</param>
/// <param name="Problem">Why it failed; null: it did not.</param>
/// <param name="Text">First kilobyte of the answer; null: there was none.</param>
internal sealed record WebhookAnswer(int? Status, string? Problem, string? Text);

/// <summary>Sends one message once: no redirect, no proxy, no cookie, and to no internal address unless allowed.</summary>
internal sealed class WebhookClient : IDisposable
{
    private const int AnswerBytes = 1024;
    private readonly HttpClient _http;
    private readonly TimeSpan _longest;
    private readonly bool _internalAllowed;

    /// <summary>Makes the client.</summary>
    /// <param name="settings">Longest attempt, and whether internal addresses may be called.</param>
    public WebhookClient(Settings settings)
    {
        _longest = settings.WebhookTimeout;
        _internalAllowed = settings.WebhookInternalAddresses;
        _http = new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseProxy = false,
            UseCookies = false,
            Credentials = null,
            AutomaticDecompression = DecompressionMethods.None,
            ActivityHeadersPropagator = null,
            MaxResponseHeadersLength = 16,
            // A name may come to mean another address: connections do not grow old.
            PooledConnectionLifetime = TimeSpan.FromMinutes(1),
            ConnectCallback = ConnectAsync,
        })
        {
            Timeout = Timeout.InfiniteTimeSpan,
        };
    }

    /// <summary>Sends a message.</summary>
    /// <param name="message">The message.</param>
    /// <param name="now">When, which is signed.</param>
    /// <param name="cancellationToken">Gives the attempt up.</param>
    public async Task<WebhookAnswer> SendAsync(TakenMessage message, DateTimeOffset now, CancellationToken cancellationToken)
    {
        if (!_internalAllowed && !message.Url.StartsWith("https:", StringComparison.OrdinalIgnoreCase))
        {
            // It was put while http was allowed.
            return Failed("The address is not https.");
        }

        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        limit.CancelAfter(_longest);
        try
        {
            using HttpRequestMessage request = Request(message, now.ToUnixTimeSeconds());
            using HttpResponseMessage answer = await _http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, limit.Token);
            return new WebhookAnswer((int)answer.StatusCode, ProblemOf(answer), await ReadAsync(answer.Content, limit.Token));
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            return Failed($"No answer within {_longest.TotalSeconds.ToString(CultureInfo.InvariantCulture)} s.");
        }
        catch (InternalAddressException)
        {
            return Failed("The name leads to an internal address, which is not called.");
        }
        catch (HttpRequestException error) when (error.InnerException is InternalAddressException)
        {
            return Failed("The name leads to an internal address, which is not called.");
        }
        catch (HttpRequestException error)
        {
            return Failed(Words(error.HttpRequestError));
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            // Whatever went wrong, it was an attempt: else it would be made again without end.
            return Failed("The connection failed.");
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();

    private static HttpRequestMessage Request(TakenMessage message, long seconds)
    {
        byte[] body = Encoding.UTF8.GetBytes(message.Body);
        string[] secrets = message.OldSecret is { } old ? [message.Secret, old] : [message.Secret];
        var request = new HttpRequestMessage(HttpMethod.Post, message.Url) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new("application/json");
        request.Headers.Add("webhook-id", message.Code);
        request.Headers.Add("webhook-timestamp", seconds.ToString(CultureInfo.InvariantCulture));
        request.Headers.Add("webhook-signature", string.Join(' ', secrets.Select(secret => WebhookSignature.Sign(secret, message.Code, seconds, body))));
        request.Headers.Add("User-Agent", "Washwear");
        return request;
    }

    private static string? ProblemOf(HttpResponseMessage answer) => (int)answer.StatusCode switch
    {
        >= 200 and < 300 => null,
        >= 300 and < 400 => "The receiver redirects, which is not followed.",
        410 => "The receiver says that it is gone.",
        _ => "The receiver refused it or failed.",
    };

    // What cannot be read of an answer changes nothing: its status has come.
    private static async Task<string> ReadAsync(HttpContent content, CancellationToken cancellationToken)
    {
        byte[] bytes = new byte[AnswerBytes];
        int read = 0;
        try
        {
            await using Stream stream = await content.ReadAsStreamAsync(cancellationToken);
            read = await stream.ReadAtLeastAsync(bytes, AnswerBytes, throwOnEndOfStream: false, cancellationToken);
        }
        catch (Exception error) when (error is IOException or HttpRequestException or OperationCanceledException)
        {
            return "(the answer broke off)";
        }

        return Encoding.UTF8.GetString(bytes, 0, read).Replace('\0', '\ufffd');
    }

    private static WebhookAnswer Failed(string problem) => new(null, problem, null);

    private static string Words(HttpRequestError error) => error switch
    {
        HttpRequestError.NameResolutionError => "The name leads to no address.",
        HttpRequestError.ConnectionError => "The receiver took no connection.",
        HttpRequestError.SecureConnectionError => "The receiver's certificate or TLS was not accepted.",
        HttpRequestError.ResponseEnded or HttpRequestError.InvalidResponse => "The receiver answered with no valid HTTP.",
        _ => "The connection failed.",
    };

    // The address that was checked is the one that is called, so that a name cannot change its mind in between.
    private async ValueTask<Stream> ConnectAsync(SocketsHttpConnectionContext context, CancellationToken cancellationToken)
    {
        IPAddress[] found = await Dns.GetHostAddressesAsync(context.DnsEndPoint.Host, cancellationToken);
        IPAddress[] allowed = [.. found.Where(address => _internalAllowed || !InternalAddresses.Contains(address))];
        if (allowed.Length == 0)
        {
            throw found.Length == 0 ? new SocketException((int)SocketError.HostNotFound) : new InternalAddressException();
        }

        SocketException? last = null;
        foreach (IPAddress address in allowed)
        {
            var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
            try
            {
                await socket.ConnectAsync(new IPEndPoint(address, context.DnsEndPoint.Port), cancellationToken);
                return new NetworkStream(socket, ownsSocket: true);
            }
            catch (SocketException error)
            {
                last = error;
                socket.Dispose();
            }
            catch
            {
                socket.Dispose();
                throw;
            }
        }

        throw last!;
    }

    private sealed class InternalAddressException : Exception;
}
