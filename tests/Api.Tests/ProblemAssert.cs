using System.Net;
using System.Text.Json;

namespace Washwear.Api.Tests;

/// <summary>The one shape of every failure, asserted in one place.</summary>
public static class ProblemAssert
{
    /// <summary>Asserts status, media type and members of a problem, and gives its fields' rules.</summary>
    public static async Task<JsonElement> IsAsync(HttpStatusCode status, HttpResponseMessage answer)
    {
        string body = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == status, $"{answer.RequestMessage?.Method} {answer.RequestMessage?.RequestUri}: {(int)answer.StatusCode} {body}");
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        JsonElement problem = JsonDocument.Parse(body).RootElement;
        Assert.StartsWith("urn:washwear:problem:", problem.GetProperty("type").GetString(), StringComparison.Ordinal);
        Assert.NotEmpty(problem.GetProperty("title").GetString()!);
        Assert.Equal((int)status, problem.GetProperty("status").GetInt32());
        Assert.NotEmpty(problem.GetProperty("detail").GetString()!);
        Assert.NotEmpty(problem.GetProperty("trace_id").GetString()!);
        Assert.DoesNotContain("Exception", body, StringComparison.Ordinal);
        Assert.DoesNotContain("Washwear.Api", body, StringComparison.Ordinal);
        return problem;
    }

    /// <summary>Asserts that the fields named, and no others, are listed with these rules.</summary>
    public static async Task ListsAsync(HttpResponseMessage answer, params string[] fieldsAndRules)
    {
        JsonElement problem = await IsAsync(HttpStatusCode.BadRequest, answer);
        Assert.True(problem.TryGetProperty("errors", out JsonElement errors), problem.GetRawText());
        string[] found = [.. errors.EnumerateArray().Select(error => $"{error.GetProperty("field").GetString()} {error.GetProperty("rule").GetString()}")];
        Assert.Equal(fieldsAndRules.Order(StringComparer.Ordinal), found.Order(StringComparer.Ordinal));
        Assert.All(errors.EnumerateArray(), error =>
        {
            Assert.NotEmpty(error.GetProperty("detail").GetString()!);
            Assert.NotEmpty(error.GetProperty("mend").GetString()!);
        });
    }
}
