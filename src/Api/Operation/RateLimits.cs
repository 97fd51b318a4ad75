using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Security.Claims;
using System.Threading.RateLimiting;
using Washwear.Api.Http;

namespace Washwear.Api.Operation;

/// <summary>How much one caller may ask for, and how many costly questions are answered at once, so that nobody starves others or the one way in.</summary>
public static class RateLimits
{
    private const int BurstSeconds = 10;
    private const int SecondsPerMinute = 60;
    private const int ReadersAtOnce = 32;
    private const string RecordsRoute = "/v1/records";
    private const string SignInRoute = "/sign-in";
    private const string HealthRoute = "/health";
    private const string SecondsWhileCostly = "2";

    // Fits, plans, forecasts, counts of long windows and pictures: what takes a processor for more than a few milliseconds.
    private static readonly string[] CostlyRoutes =
    [
        "/v1/part-life", "/part-life", "/v1/failures", "/failures", "/v1/plan", "/planning", "/v1/cleaning/compliance", "/v1/cleaning/trend",
        "/v1/cleaning/early-signs", "/cleaning", "/v1/repairs", "/repairs", "/charts",
    ];

    /// <summary>Registers the limits.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    public static void AddRateLimits(this IServiceCollection services, Settings settings)
    {
        // Whoever reads the embedded database holds a thread meanwhile: the one way in must not wait until the runtime makes new ones.
        ThreadPool.GetMinThreads(out int workers, out int ports);
        ThreadPool.SetMinThreads(Math.Max(workers, (2 * Environment.ProcessorCount) + settings.CostlyAtOnce + ReadersAtOnce), ports);
        services.AddSingleton<RequestLimiter>();
    }

    /// <summary>Holds every request against the limits; after the caller is known.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseRateLimits(this IApplicationBuilder app)
    {
        RequestLimiter limiter = app.ApplicationServices.GetRequiredService<RequestLimiter>();
        app.Use(next => context => limiter.PassAsync(context, next));
    }

    /// <summary>The limits that each request has to pass, one after the other.</summary>
    /// <param name="settings">The settings.</param>
    internal static PartitionedRateLimiter<HttpContext>[] Make(Settings settings)
    {
        int atOnce = settings.CostlyAtOnce;
        int waiting = settings.CostlyWaiting;

        // One caller gets half of the places, so that there is always one for somebody else.
        return
        [
            PartitionedRateLimiter.Create<HttpContext, string>(context => Bucket(context, settings)),
            PartitionedRateLimiter.Create<HttpContext, string>(context => Costly(context, "caller " + CallerOf(context), Half(atOnce), Half(waiting))),
            PartitionedRateLimiter.Create<HttpContext, string>(context => Costly(context, "all", atOnce, waiting)),
        ];
    }

    /// <summary>Whether an address takes a processor for more than a few milliseconds.</summary>
    /// <param name="path">The address.</param>
    internal static bool IsCostly(PathString path) => Array.Exists(CostlyRoutes, route => path.StartsWithSegments(route, StringComparison.OrdinalIgnoreCase));

    /// <summary>Tells a request to come again.</summary>
    /// <param name="context">The request.</param>
    /// <param name="wait">When there is room again; null: that depends on how long others take.</param>
    internal static async Task RefuseAsync(HttpContext context, TimeSpan? wait)
    {
        context.Response.Headers.RetryAfter = wait is { } time
            ? Math.Max(1, Math.Ceiling(time.TotalSeconds)).ToString(CultureInfo.InvariantCulture)
            : SecondsWhileCostly;
        string detail = wait is not null
            ? "More requests came than one caller may send in this time. Wait as long as Retry-After says, and ask less often: lists give up to page_rows_max rows at once."
            : "More costly questions are being asked than can be answered at once. Nothing was computed; ask again after Retry-After, one question at a time.";
        await Problems.Status(StatusCodes.Status429TooManyRequests, detail).ExecuteAsync(context);
    }

    private static int Half(int number) => Math.Max(1, number / 2);

    private static RateLimitPartition<string> Bucket(HttpContext context, Settings settings)
    {
        PathString path = context.Request.Path;
        bool isKnown = context.User.Identity?.IsAuthenticated == true;
        bool isPost = HttpMethods.IsPost(context.Request.Method);
        string address = AddressOf(context);

        // A look at health costs next to nothing, and records are bounded by what can be written, not by their number.
        if (path.StartsWithSegments(HealthRoute, out PathString _) || (isKnown && isPost && path.Equals(RecordsRoute, StringComparison.OrdinalIgnoreCase)))
        {
            return RateLimitPartition.GetNoLimiter("free");
        }

        if (path.StartsWithSegments(SignInRoute, out PathString below) && (isPost || below.HasValue))
        {
            return Bucket("sign-in " + address, settings.SignInsPerMinute, settings.SignInsPerMinute);
        }

        return isKnown
            ? BucketASecond("caller " + CallerOf(context), settings.CallerRequestsPerSecond)
            : BucketASecond("address " + address, settings.StrangerRequestsPerSecond);
    }

    private static RateLimitPartition<string> BucketASecond(string who, int most) => Bucket(who, most * SecondsPerMinute, most * BurstSeconds);

    // What comes back comes back evenly, at most once a second.
    private static RateLimitPartition<string> Bucket(string who, int perMinute, int burst) => perMinute == 0
        ? RateLimitPartition.GetNoLimiter("free")
        : RateLimitPartition.GetTokenBucketLimiter(
            who,
            _ => new TokenBucketRateLimiterOptions
            {
                TokenLimit = burst,
                TokensPerPeriod = Math.Max(1, perMinute / SecondsPerMinute),
                ReplenishmentPeriod = TimeSpan.FromSeconds(Math.Max(1, (double)SecondsPerMinute / perMinute)),
                QueueLimit = 0,
            });

    private static RateLimitPartition<string> Costly(HttpContext context, string who, int atOnce, int waiting) => IsCostly(context.Request.Path)
        ? RateLimitPartition.GetConcurrencyLimiter(
            who,
            _ => new ConcurrencyLimiterOptions { PermitLimit = atOnce, QueueLimit = waiting, QueueProcessingOrder = QueueProcessingOrder.OldestFirst })
        : RateLimitPartition.GetNoLimiter("free");

    private static string CallerOf(HttpContext context) => context.User.Identity is { IsAuthenticated: true } identity
        ? context.User.FindFirstValue(ClaimTypes.NameIdentifier) ?? identity.Name!
        : AddressOf(context);

    // Whoever has one address of version 6 has all those that share its first half.
    private static string AddressOf(HttpContext context)
    {
        if (context.Connection.RemoteIpAddress is not { } address)
        {
            return "none";
        }

        if (address.IsIPv4MappedToIPv6 || address.AddressFamily != AddressFamily.InterNetworkV6)
        {
            return address.MapToIPv4().ToString();
        }

        byte[] bytes = address.GetAddressBytes();
        Array.Clear(bytes, 8, 8);
        return new IPAddress(bytes).ToString();
    }
}
