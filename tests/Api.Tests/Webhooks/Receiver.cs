using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Washwear.Api.Tests.Webhooks;

/// <summary>A message that a receiver was sent.</summary>
public sealed record Received(string Id, string Timestamp, string Signature, byte[] Body)
{
    /// <summary>Whether a secret signed it, worked out here apart from the program.</summary>
    public bool IsSignedBy(string secret)
    {
        byte[] key = Convert.FromBase64String(secret["whsec_".Length..]);
        using var mac = new HMACSHA256(key);
        byte[] signed = mac.ComputeHash([.. Encoding.UTF8.GetBytes(Id + "." + Timestamp + "."), .. Body]);
        return Signature.Split(' ').Contains("v1," + Convert.ToBase64String(signed));
    }

    public string Text => Encoding.UTF8.GetString(Body);
}

/// <summary>A receiver of webhooks: a real web server on a free loopback port that answers what a test says.</summary>
public sealed class Receiver : IAsyncDisposable
{
    private readonly WebApplication _app;

    private Receiver(WebApplication app) => _app = app;

    public ConcurrentQueue<Received> Messages { get; } = new();

    public int Answers { get; set; } = 200;

    public TimeSpan After { get; set; }

    public string Url => _app.Urls.First() + "/hook";

    public static async Task<Receiver> StartAsync()
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        WebApplication app = builder.Build();
        var receiver = new Receiver(app);
        app.MapPost("/hook", (Delegate)receiver.TakeAsync);
        await app.StartAsync();
        return receiver;
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
    }

    private async Task<IResult> TakeAsync(HttpContext context)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body);
        IHeaderDictionary headers = context.Request.Headers;
        Messages.Enqueue(new Received(
            headers["webhook-id"].ToString(), headers["webhook-timestamp"].ToString(), headers["webhook-signature"].ToString(), body.ToArray()));
        await Task.Delay(After);
        if (Answers == 302)
        {
            context.Response.Headers.Location = Url;
        }

        return Results.Text("said " + Answers, statusCode: Answers);
    }
}
