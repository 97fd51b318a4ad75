using System.Net;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.HttpOverrides;

namespace Washwear.Api.Http;

/// <summary>The web server: where it listens, what it logs, which proxies it believes.</summary>
public static class WebServer
{
    // Whoever sends less than these ask for takes a place from others.
    private static readonly TimeSpan HeadersPatience = TimeSpan.FromSeconds(15);

    /// <summary>Starts putting the web server together.</summary>
    /// <param name="settings">The settings.</param>
    public static WebApplicationBuilder CreateBuilder(Settings settings)
    {
        // Files lie beside the program wherever it is started from, and settings are read once: no watcher over the folder.
        WebApplicationBuilder builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ContentRootPath = AppContext.BaseDirectory,
            ApplicationName = typeof(WebServer).Assembly.GetName().Name,
            Args = ["--hostBuilder:reloadConfigOnChange=false"],
        });
        builder.WebHost.UseUrls(settings.Urls.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = settings.RequestLimitBytes;
            kestrel.Limits.MaxConcurrentConnections = settings.ConnectionsMax;
            kestrel.Limits.RequestHeadersTimeout = HeadersPatience;
        });
        builder.Services.AddServiceLog(settings);
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = settings.StopTakes);
        return builder;
    }

    /// <summary>Believes the client address and scheme that a trusted proxy tells.</summary>
    /// <param name="app">The pipeline.</param>
    /// <param name="settings">The settings.</param>
    /// <exception cref="SettingException">A proxy's address cannot be read.</exception>
    public static void UseTrustedProxies(this IApplicationBuilder app, Settings settings)
    {
        if (settings.TrustedProxies.Count == 0)
        {
            return;
        }

        var options = new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto };
        options.KnownIPNetworks.Clear();
        options.KnownProxies.Clear();
        foreach (string proxy in settings.TrustedProxies)
        {
            options.KnownProxies.Add(IPAddress.TryParse(proxy, out IPAddress? address)
                ? address
                : throw new SettingException($"Setting trusted_proxies: '{proxy}' is not an IP address."));
        }

        app.UseForwardedHeaders(options);
    }

    /// <summary>Answers HEAD wherever GET is answered, with the same headers (RFC 9110, section 9.3.2).</summary>
    /// <remarks>Only routes and handlers see a GET; the server still knows that it was asked for a head and sends no body.</remarks>
    /// <param name="app">The pipeline, before routing.</param>
    public static void UseHead(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        if (!HttpMethods.IsHead(context.Request.Method))
        {
            await next(context);
            return;
        }

        context.Request.Method = HttpMethods.Get;
        try
        {
            await next(context);
        }
        finally
        {
            context.Request.Method = HttpMethods.Head;
        }
    });

    /// <summary>Refuses changes that a browser sends for a page of somebody else, whatever cookie comes with them.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseSameOrigin(this IApplicationBuilder app) => app.Use((context, next) =>
        ComesFromElsewhere(context.Request)
            ? Problems.Status(StatusCodes.Status403Forbidden, "This change was sent by a page of another site.").ExecuteAsync(context)
            : next(context));

    /// <summary>Refuses a form without its token where a handler is given the fields. Handlers that read the form themselves look at the token themselves.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseFormTokens(this IApplicationBuilder app)
    {
        app.UseAntiforgery();
        app.Use((context, next) =>
        {
            if (context.Features.Get<IAntiforgeryValidationFeature>() is not { IsValid: false })
            {
                return next(context);
            }

            context.Response.StatusCode = StatusCodes.Status400BadRequest;
            return Task.CompletedTask;
        });
    }

    private static bool ComesFromElsewhere(HttpRequest request)
    {
        bool onlyReads = HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method) || HttpMethods.IsOptions(request.Method);
        string origin = request.Headers.Origin.ToString();
        return !onlyReads
            && origin.Length > 0
            && request.Headers.Authorization.Count == 0
            && !string.Equals(origin, $"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase);
    }
}
