namespace Washwear.Api.Http;

/// <summary>Which problems an operation may answer with.</summary>
internal static class ContractProblems
{
    /// <summary>Status codes and when they come.</summary>
    /// <param name="method">HTTP method.</param>
    /// <param name="path">Route.</param>
    /// <param name="hasBody">Whether the request carries a body.</param>
    public static IEnumerable<(int Status, string When)> Of(string method, string path, bool hasBody)
    {
        yield return (406, "None of the forms that Accept asks for can be given.");
        if (path.StartsWith("health", StringComparison.Ordinal))
        {
            if (path.EndsWith("ready", StringComparison.Ordinal))
            {
                yield return (503, "The database does not answer, or lacks migrations.");
            }

            if (path.EndsWith("details", StringComparison.Ordinal))
            {
                yield return (401, "No key, or one that is not good.");
                yield return (403, "The key lacks the ability.");
            }

            yield break;
        }

        yield return (400, "Something in the request breaks a rule; errors names field, rule and mend.");
        yield return (401, "No key, or one that is not good.");
        yield return (403, "The key lacks the ability.");
        if (path != "v1/records" || method != "POST")
        {
            yield return (429, "More requests of one caller, or more costly questions, than are answered at once; come again after Retry-After.");
        }

        if (path.Contains('{', StringComparison.Ordinal) && method != "PUT")
        {
            yield return (404, "There is no such thing.");
        }

        if (path is "v1/webhooks/{webhook}/test" or "v1/webhooks/{webhook}/messages/{id}/resend" or "v1/webhooks/{webhook}/messages/{id:long}/resend")
        {
            yield return (409, "The webhook is not enabled.");
        }

        if (path == "v1/plan/decisions" && method == "POST")
        {
            yield return (409, "Nothing that was decided is in force.");
        }

        if (hasBody)
        {
            yield return (413, "The body is larger than request_limit_mib.");
            yield return (415, "The body is of a kind that is not read here.");
        }

        if (path == "v1/records" && method == "POST")
        {
            yield return (409, "A request with this Idempotency-Key is still being taken in; send it again after Retry-After to get its answer.");
            yield return (422, "This Idempotency-Key came with another request before; nothing was taken in.");
            yield return (429, "More is being sent than can be written; nothing of the request was taken in, send it again after Retry-After.");
        }

        if (method != "GET")
        {
            yield return (503, "The database is busy, or cannot be written for now; nothing was stored, send the same again after Retry-After.");
            yield return (507, "The disk of the database is full; nothing was stored, make room and send the same again.");
        }
    }
}
