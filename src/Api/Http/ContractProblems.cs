namespace Washwear.Api.Http;

/// <summary>Which problems an operation may answer with.</summary>
internal static class ContractProblems
{
    /// <summary>Status codes and when they come.</summary>
    /// <param name="method">HTTP method.</param>
    /// <param name="path">Route.</param>
    public static IEnumerable<(int Status, string When)> Of(string method, string path)
    {
        if (path.StartsWith("health", StringComparison.Ordinal))
        {
            yield break;
        }

        yield return (400, "Something in the request breaks a rule; errors names field, rule and mend.");
        yield return (401, "No key, or one that is not good.");
        yield return (403, "The key lacks the ability.");
        if (path.Contains('{', StringComparison.Ordinal) && method != "PUT")
        {
            yield return (404, "There is no such thing.");
        }

        if (method is "PUT" or "POST")
        {
            yield return (413, "The body is larger than request_limit_mib.");
            yield return (415, "The body is of a kind that is not read here.");
            yield return (503, "The database is busy; nothing was stored, send the same again.");
        }
    }
}
