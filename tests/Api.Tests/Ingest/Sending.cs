using System.Net;
using System.Text;
using System.Text.Json;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Sends records and reads the answers.</summary>
internal static class Sending
{
    /// <summary>Sends a body and expects 200.</summary>
    public static async Task<JsonElement> SendAsync(HttpClient client, string body, string mediaType = "application/json", string query = "")
    {
        using HttpResponseMessage answer = await PostAsync(client, Encoding.UTF8.GetBytes(body), mediaType, query);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, text);
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Sends bytes.</summary>
    public static Task<HttpResponseMessage> PostAsync(HttpClient client, byte[] body, string mediaType, string query = "")
    {
        var content = new ByteArrayContent(body);
        content.Headers.TryAddWithoutValidation("Content-Type", mediaType);
        return client.PostAsync("/v1/records" + query, content);
    }

    /// <summary>A wash of OVEN-1 as JSON.</summary>
    public static string Wash(string key, string at = "2026-02-20T22:00:00+01:00", string outcome = "completed", string more = "") =>
        $$"""{"type":"wash","key":"{{key}}","unit":"OVEN-1","at":"{{at}}","grade":"standard","outcome":"{{outcome}}"{{more}}}""";

    /// <summary>Fails unless the answer has these counts.</summary>
    public static void AssertCounts(JsonElement answer, int accepted = 0, int duplicate = 0, int refused = 0)
    {
        Assert.True(
            answer.GetProperty("accepted").GetInt32() == accepted
            && answer.GetProperty("duplicate").GetInt32() == duplicate
            && answer.GetProperty("refused").GetInt32() == refused,
            answer.ToString());
    }

    /// <summary>Fails unless the only listed row is refused for this field and rule, and says what to do.</summary>
    public static void AssertRefused(JsonElement answer, string field, string rule)
    {
        AssertCounts(answer, refused: 1);
        JsonElement problem = answer.GetProperty("rows")[0].GetProperty("problem");
        Assert.True(
            problem.GetProperty("field").ToString() == field && problem.GetProperty("rule").GetString() == rule, answer.ToString());
        Assert.NotEmpty(problem.GetProperty("detail").GetString()!);
        Assert.NotEmpty(problem.GetProperty("mend").GetString()!);
    }
}
