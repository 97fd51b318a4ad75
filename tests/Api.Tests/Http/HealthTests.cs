using System.Net;

namespace Washwear.Api.Tests.Http;

public sealed class HealthTests
{
    [Theory]
    [InlineData("/health/live")]
    [InlineData("/health/ready")]
    public async Task AnswersWithoutAKey(string path)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage answer = await host.Stranger.GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("""{"status":"ok"}""", await answer.Content.ReadAsStringAsync());
    }
}
