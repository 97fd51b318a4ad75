using System.Diagnostics.Metrics;
using System.Threading.RateLimiting;

namespace Washwear.Api.Operation;

/// <summary>Lets requests in as far as the limits allow. Safe for concurrent use.</summary>
/// <remarks>The platform's own step would do, but it keeps a timer that nobody can stop, and by it a program that was disposed of, with all that it
/// holds. It also asks every limit twice where the first answer is no, which costs a caller two requests for one that has to wait.</remarks>
internal sealed class RequestLimiter : IAsyncDisposable
{
    private readonly PartitionedRateLimiter<HttpContext>[] _limits;
    private readonly PartitionedRateLimiter<HttpContext> _all;
    private readonly UpDownCounter<long> _costly;
    private readonly Counter<long> _refused;

    /// <summary>Begins with every limit unused.</summary>
    /// <param name="settings">The limits.</param>
    /// <param name="meters">Where instruments are made.</param>
    public RequestLimiter(Settings settings, IMeterFactory meters)
    {
        _limits = RateLimits.Make(settings);
        _all = PartitionedRateLimiter.CreateChained(_limits);
        Meter meter = meters.Create(Telemetry.Name);
        _costly = meter.CreateUpDownCounter<long>("washwear.costly.requests", "{request}", "Costly questions that are being answered or wait their turn.");
        _refused = meter.CreateCounter<long>("washwear.requests.limited", "{request}", "Requests that were told to come again, by the limit that they met.");
    }

    /// <summary>Answers a request in its turn, or tells it to come again.</summary>
    /// <param name="context">The request, whose caller is known.</param>
    /// <param name="next">What answers it.</param>
    public async Task PassAsync(HttpContext context, RequestDelegate next)
    {
        int costly = RateLimits.IsCostly(context.Request.Path) ? 1 : 0;
        _costly.Add(costly);
        try
        {
            using RateLimitLease lease = await _all.AcquireAsync(context, 1, context.RequestAborted);
            if (lease.IsAcquired)
            {
                await next(context);
                return;
            }

            TimeSpan? wait = lease.TryGetMetadata(MetadataName.RetryAfter, out TimeSpan time) ? time : null;
            _refused.Add(1, new KeyValuePair<string, object?>("limit", wait is null ? "costly" : "rate"));
            await RateLimits.RefuseAsync(context, wait);
        }
        finally
        {
            _costly.Add(-costly);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        // The chain leaves its links alone.
        await _all.DisposeAsync();
        foreach (PartitionedRateLimiter<HttpContext> limit in _limits)
        {
            await limit.DisposeAsync();
        }
    }
}
