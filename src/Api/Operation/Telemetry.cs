using System.Diagnostics;
using System.Diagnostics.Metrics;
using OpenTelemetry;
using OpenTelemetry.Exporter;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;
using Washwear.Api.Security;

namespace Washwear.Api.Operation;

/// <summary>What the running service measures and traces, and who is told.</summary>
public static class Telemetry
{
    /// <summary>Name of the meter and of the source of spans.</summary>
    public const string Name = "Washwear";

    private const string Address = "/metrics";

    private const int MostLinks = 32;

    // Room for all series of an instrument is taken at its begin. Requests have one for each route, method and status.
    private const string Requests = "http.server.request.duration";
    private const int MostRoutes = 1000;
    private const int MostSeries = 250;

    private static readonly string[] Meters =
        [Name, "Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel", "System.Runtime"];

    // Who asked, from where and with which words is nobody's business but theirs; a path may hold what makes a shared address secret.
    private static readonly string[] Personal =
        ["url.query", "url.path", "url.full", "user_agent.original", "client.address", "network.peer.address", "network.peer.port", "enduser.id"];

    private static readonly ActivitySource Source = new(Name);
    private static readonly Meter Shared = new(Name);

    private static readonly Histogram<double> Derivations = Shared.CreateHistogram(
        "washwear.derive.duration", "s", "How long it took to derive anew what is kept in memory: fits, books, sources.", null,
        new InstrumentAdvice<double> { HistogramBucketBoundaries = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60] });

    /// <summary>Registers meters, spans and whom they go to.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    public static void AddTelemetry(this IServiceCollection services, Settings settings)
    {
        services.AddSingleton<IngestMeter>();
        services.AddSingleton<ServiceGauges>();
        if (!settings.MeasuresItself)
        {
            return;
        }

        OpenTelemetryBuilder telemetry = services.AddOpenTelemetry().ConfigureResource(resource => resource.AddService(
            "washwear", serviceVersion: typeof(Telemetry).Assembly.GetName().Version?.ToString()));
        telemetry.WithMetrics(metrics =>
        {
            metrics.AddMeter(Meters).AddPrometheusExporter(options =>
            {
                options.ScopeInfoEnabled = false;
                options.ScrapeResponseCacheDurationMilliseconds = 0;
            });
            if (settings.OtlpEndpoint is not null)
            {
                metrics.AddOtlpExporter((exporter, _) => Aim(exporter, settings, "v1/metrics"));
            }
        });

        // Several services in one process, as in tests, each count their own.
        services.ConfigureOpenTelemetryMeterProvider((provider, metrics) =>
        {
            IMeterFactory own = provider.GetRequiredService<IMeterFactory>();
            metrics.AddView(instrument => instrument.Meter.Scope is { } scope && !ReferenceEquals(scope, own)
                ? MetricStreamConfiguration.Drop
                : new MetricStreamConfiguration { CardinalityLimit = instrument.Name == Requests ? MostRoutes : MostSeries });
        });
        if (settings.OtlpEndpoint is not null)
        {
            telemetry.WithTracing(traces => traces
                .AddSource(Name)
                .AddAspNetCoreInstrumentation()
                .AddProcessor(new Discretion())
                .SetSampler(new ParentBasedSampler(new TraceIdRatioBasedSampler(settings.TraceShare)))
                .AddOtlpExporter(exporter => Aim(exporter, settings, "v1/traces")));
        }
    }

    /// <summary>Maps the address that a Prometheus server reads.</summary>
    /// <param name="app">The program.</param>
    /// <param name="settings">Whether it is open to those without a key.</param>
    public static void MapMetrics(this WebApplication app, Settings settings)
    {
        if (!settings.MeasuresItself)
        {
            return;
        }

        IApplicationBuilder scrape = ((IEndpointRouteBuilder)app).CreateApplicationBuilder();
        scrape.Use(async (context, next) =>
        {
            await context.RequestServices.GetRequiredService<Lookout>().LookAsync(context.RequestAborted);
            await next(context);
        });
        scrape.UseOpenTelemetryPrometheusScrapingEndpoint(_ => true);
        IEndpointConventionBuilder route = app.MapGet(Address, scrape.Build()).ExcludeFromDescription();
        if (settings.MetricsOpen)
        {
            route.AllowAnonymous();
        }
        else
        {
            route.RequireWholeFleet().RequireAbility(Abilities.Read);
        }
    }

    /// <summary>Measures work that derives something anew, as a span and in the time that it takes.</summary>
    /// <param name="what">What is derived: one of few names.</param>
    /// <returns>To be disposed of when it is done.</returns>
    internal static Derivation Deriving(string what) => new(what, Source.StartActivity("derive " + what), Stopwatch.GetTimestamp());

    /// <summary>A span for one commit, if any of the requests whose rows it takes in is traced: within the first of them, linked with the others.</summary>
    /// <param name="requests">The spans of the requests.</param>
    internal static Activity? Committing(IEnumerable<ActivityContext> requests)
    {
        if (!Source.HasListeners())
        {
            return null;
        }

        ActivityContext[] traced = [.. requests.Where(request => request.TraceFlags.HasFlag(ActivityTraceFlags.Recorded)).Take(MostLinks)];
        return traced.Length == 0
            ? null
            : Source.StartActivity("ingest commit", ActivityKind.Internal, traced[0], null, traced.Skip(1).Select(request => new ActivityLink(request)));
    }

    private static void Aim(OtlpExporterOptions exporter, Settings settings, string path)
    {
        exporter.Protocol = settings.OtlpIsGrpc ? OtlpExportProtocol.Grpc : OtlpExportProtocol.HttpProtobuf;
        exporter.Endpoint = settings.OtlpIsGrpc ? settings.OtlpEndpoint! : new Uri(settings.OtlpEndpoint!.AbsoluteUri.TrimEnd('/') + "/" + path);
    }

    /// <summary>Work that is being measured.</summary>
    internal readonly struct Derivation(string what, Activity? span, long start) : IDisposable
    {
        public void Dispose()
        {
            Derivations.Record(Stopwatch.GetElapsedTime(start).TotalSeconds, new KeyValuePair<string, object?>("what", what));
            span?.Dispose();
        }
    }

    private sealed class Discretion : BaseProcessor<Activity>
    {
        public override void OnEnd(Activity data)
        {
            foreach (string name in Personal)
            {
                if (data.GetTagItem(name) is not null)
                {
                    data.SetTag(name, null);
                }
            }
        }
    }
}
