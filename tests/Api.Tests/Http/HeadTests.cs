using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Washwear.Api.Tests.Http;

public sealed class HeadTests
{
    [Theory]
    [InlineData("/health/live", HttpStatusCode.OK)]
    [InlineData("/v1/units", HttpStatusCode.OK)]
    [InlineData("/sign-in", HttpStatusCode.OK)]
    [InlineData("/no/such/page", HttpStatusCode.NotFound)]
    public async Task Head_says_what_get_would_say(string path, HttpStatusCode status)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using var request = new HttpRequestMessage(HttpMethod.Head, path);
        using HttpResponseMessage head = await host.Admin.SendAsync(request);
        using HttpResponseMessage get = await host.Admin.GetAsync(path);

        Assert.Equal(status, head.StatusCode);
        Assert.Equal(get.StatusCode, head.StatusCode);
        Assert.Equal(get.Content.Headers.ContentType, head.Content.Headers.ContentType);
    }

    [Fact]
    public async Task No_byte_follows_a_head_so_that_the_next_answer_is_read_right()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using var socket = new TcpClient();
        await socket.ConnectAsync(host.Address.Host, host.Address.Port);
        await using NetworkStream stream = socket.GetStream();
        string lines = "HEAD /health/live HTTP/1.1\r\nHost: x\r\n\r\nGET /health/live HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n";
        await stream.WriteAsync(Encoding.ASCII.GetBytes(lines));
        using var reader = new StreamReader(stream, Encoding.ASCII);
        string[] answers = (await reader.ReadToEndAsync()).Split("HTTP/1.1 200 OK\r\n");

        Assert.Equal(3, answers.Length);
        Assert.EndsWith("\r\n\r\n", answers[1], StringComparison.Ordinal);
        Assert.DoesNotContain("status", answers[1], StringComparison.Ordinal);
        Assert.Contains("{\"status\":\"ok\"}", answers[2], StringComparison.Ordinal);
    }
}
