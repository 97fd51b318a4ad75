using System.IO.Compression;
using Microsoft.AspNetCore.ResponseCompression;

namespace Washwear.Api.Http;

/// <summary>Sends what is read compressed where the caller takes it: a page travels in about a tenth of its bytes.</summary>
/// <remarks>
/// Answers to what is asked for only: those to records are short, and devices that post them all day should not pay for it. Over
/// https too: a page's secret is its form token, and each answer carries another one, so nothing can be guessed from lengths.
/// </remarks>
public static class Compression
{
    /// <summary>Registers the codings: Brotli, gzip, both at their quickest.</summary>
    /// <param name="services">The services.</param>
    public static void AddCompression(this IServiceCollection services)
    {
        services.Configure<BrotliCompressionProviderOptions>(options => options.Level = CompressionLevel.Fastest);
        services.Configure<GzipCompressionProviderOptions>(options => options.Level = CompressionLevel.Fastest);
        services.AddResponseCompression(options =>
        {
            options.EnableForHttps = true;
            options.MimeTypes =
            [
                "text/html", "text/css", "text/csv", "text/calendar", "text/javascript", "application/javascript", "text/plain", "image/svg+xml",
                "application/json", "application/problem+json", "application/x-ndjson", "application/yaml",
            ];
        });
    }

    /// <summary>Compresses what GET and HEAD are answered with.</summary>
    /// <param name="app">The pipeline, after HEAD has become GET.</param>
    public static void UseCompression(this IApplicationBuilder app) =>
        app.UseWhen(context => HttpMethods.IsGet(context.Request.Method), asked => asked.UseResponseCompression());
}
