using System.Globalization;
using Serilog;
using Serilog.Events;
using Serilog.Formatting;
using Serilog.Formatting.Compact;
using Serilog.Formatting.Display;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Http;

/// <summary>What is logged, how and where to: the console, and a file that rolls if one is named.</summary>
public static class ServiceLog
{
    private const string LogLine =
        "{Timestamp:yyyy-MM-ddTHH:mm:ss.fffzzz} {Level:u3} {Message:lj} {TraceId} {SourceContext}{NewLine}{Exception}";

    /// <summary>Registers the log.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    public static void AddServiceLog(this IServiceCollection services, Settings settings)
    {
        LogEventLevel least = Enum.Parse<LogEventLevel>(settings.LogLevel, ignoreCase: true);
        LogEventLevel ofLibraries = least > LogEventLevel.Warning ? least : LogEventLevel.Warning;
        ITextFormatter format = settings.LogIsJson ? new RenderedCompactJsonFormatter() : new MessageTemplateTextFormatter(LogLine, CultureInfo.InvariantCulture);
        services.AddSerilog(
            log =>
            {
                // What libraries say in passing may hold addresses with their queries.
                log.MinimumLevel.Is(least)
                    .MinimumLevel.Override("Microsoft", ofLibraries)
                    .MinimumLevel.Override("System", ofLibraries)
                    .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
                    .Enrich.FromLogContext()
                    .WriteTo.Console(format);
                if (settings.LogFile is { } file)
                {
                    log.WriteTo.File(
                        format,
                        file,
                        rollingInterval: RollingInterval.Day,
                        fileSizeLimitBytes: settings.LogFileBytes,
                        rollOnFileSizeLimit: true,
                        retainedFileCountLimit: settings.LogFileCount);
                }
            },
            preserveStaticLogger: true);
    }

    /// <summary>Logs one line a request: method, path, status and time, never a query, header or body, nor what makes a shared address secret, and
    /// who asked only if it is a program.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseRequestLog(this IApplicationBuilder app) => app.UseSerilogRequestLogging(options =>
    {
        options.Logger = app.ApplicationServices.GetRequiredService<Serilog.ILogger>();
        options.GetLevel = (_, _, error) => error is null ? LogEventLevel.Information : LogEventLevel.Error;
        options.GetMessageTemplateProperties = (context, path, elapsed, status) =>
        [
            new LogEventProperty("RequestMethod", new ScalarValue(context.Request.Method)),
            new LogEventProperty("RequestPath", new ScalarValue(context.Request.Path.StartsWithSegments(Urls.SharedPrefix) ? Urls.SharedPrefix + "/..." : path)),
            new LogEventProperty("StatusCode", new ScalarValue(status)),
            new LogEventProperty("Elapsed", new ScalarValue(elapsed)),
        ];
        options.EnrichDiagnosticContext = (diagnostics, context) =>
        {
            if (context.User.Identity is { AuthenticationType: Authentication.KeyScheme, Name: { } key })
            {
                diagnostics.Set("Caller", key);
            }
        };
    });
}
