using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Washwear.Api;
using Washwear.Api.Commands;
using Washwear.Api.Security;

namespace Washwear.Benchmarks.Ingest;

/// <summary>The program in a process of its own, as 'serve' runs it, with one more endpoint that does nothing. Ends when its input ends, so
/// that it never outlives who started it.</summary>
internal static class ServedAlone
{
    /// <summary>Name by which the benchmarks start themselves for this.</summary>
    public const string Name = "serve-alone";

    /// <summary>What precedes the address on the one line that is printed.</summary>
    public const string Listens = "listens on ";

    /// <summary>Endpoint that reads a JSON body, as whoever may send records, and answers small JSON.</summary>
    public const string Empty = "/v1/empty";

    /// <summary>Serves; settings come from the environment.</summary>
    public static async Task<int> RunAsync()
    {
        await using WebApplication app = Api.Program.Build(Settings.Load(new Dictionary<string, string>()));
        app.MapPost(Empty, async (HttpContext context, CancellationToken cancellationToken) =>
        {
            using JsonDocument body = await JsonDocument.ParseAsync(context.Request.Body, cancellationToken: cancellationToken);
            return TypedResults.Ok(new EmptyAnswer(body.RootElement.ValueKind == JsonValueKind.Object ? 1 : 0));
        }).RequireAbility(Abilities.Ingest);
        await Serve.PrepareAsync(app.Services, CancellationToken.None);
        await app.StartAsync();
        Console.WriteLine(Listens + app.Urls.First());
        while (await Console.In.ReadLineAsync() is not null)
        {
        }

        await app.StopAsync();
        return 0;
    }

    private sealed record EmptyAnswer(int Read);
}
