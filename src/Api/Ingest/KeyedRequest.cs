using Microsoft.Extensions.Primitives;
using Washwear.Api.Security;

namespace Washwear.Api.Ingest;

/// <summary>A request with a key, on its way in.</summary>
/// <param name="Key">The key.</param>
/// <param name="Body">The body, which is hashed while it is read, whoever reads it.</param>
/// <param name="KeptFor">How long its answer is kept.</param>
internal sealed record KeyedRequest(RequestKey Key, HashedBody Body, TimeSpan KeptFor)
{
    // Headers that say what is sent: with others the same bytes would be another request.
    private const string EventHeaders = "ce-";

    /// <summary>Begins to hash a request; its body is read through the hash from now on.</summary>
    /// <param name="context">The request.</param>
    /// <param name="key">Its key.</param>
    /// <param name="keptFor">How long its answer is kept.</param>
    public static KeyedRequest Of(HttpContext context, string key, TimeSpan keptFor)
    {
        HttpRequest request = context.Request;
        var body = new HashedBody(request.Body);
        context.Response.RegisterForDispose(body);
        body.Add(request.QueryString.Value);
        body.Add(request.ContentType);
        body.Add(request.Headers.ContentEncoding.ToString());
        foreach ((string name, StringValues value) in request.Headers
            .Where(header => header.Key.StartsWith(EventHeaders, StringComparison.OrdinalIgnoreCase))
            .OrderBy(header => header.Key, StringComparer.OrdinalIgnoreCase))
        {
            body.Add(name.ToUpperInvariant());
            body.Add(value.ToString());
        }

        request.Body = body;
        return new KeyedRequest(new RequestKey(Authentication.KeyIdOf(context.User), key), body, keptFor);
    }
}
