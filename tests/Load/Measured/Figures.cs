using System.Collections.Concurrent;
using Washwear.Load.Traffic;

namespace Washwear.Load.Measured;

/// <summary>What one route did.</summary>
/// <param name="Route">The route.</param>
/// <param name="Requests">Requests.</param>
/// <param name="Errors">Answers that were not expected, and requests without an answer.</param>
/// <param name="MedianMs">Median latency, ms.</param>
/// <param name="P95Ms">95th percentile, ms.</param>
/// <param name="P99Ms">99th percentile, ms.</param>
/// <param name="WorstMs">Longest, ms.</param>
/// <param name="Statuses">Requests by status; 0: no answer.</param>
internal sealed record RouteRow(
    string Route, int Requests, long Errors, double MedianMs, double P95Ms, double P99Ms, double WorstMs, IReadOnlyDictionary<int, long> Statuses);

/// <summary>Counts and latencies by route. Safe for concurrent use.</summary>
internal sealed class Figures
{
    private const int ComplaintsKept = 50;
    private readonly ConcurrentDictionary<string, One> _routes = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<string> _complaints = new();

    /// <summary>The first answers that were not expected.</summary>
    public IReadOnlyCollection<string> Complaints => _complaints;

    /// <summary>Latencies of everything that sends records.</summary>
    public Percentiles Posts { get; } = new();

    /// <summary>Latencies of everything else.</summary>
    public Percentiles Others { get; } = new();

    /// <summary>Requests so far.</summary>
    public long Requests => _routes.Values.Sum(one => (long)one.Latencies.Count);

    /// <summary>Answers that were not expected so far.</summary>
    public long Errors => _routes.Values.Sum(one => one.Errors);

    /// <summary>Adds an answer.</summary>
    /// <param name="call">What was asked.</param>
    /// <param name="answer">What came.</param>
    public void Add(Call call, Answer answer)
    {
        One one = _routes.GetOrAdd(call.Route, _ => new One());
        one.Latencies.Add(answer.Milliseconds);
        (call.Route.StartsWith("POST /v1/records", StringComparison.Ordinal) ? Posts : Others).Add(answer.Milliseconds);
        one.Statuses.AddOrUpdate(answer.Status, 1, (_, before) => before + 1);
        if (!call.Expects(answer))
        {
            Complain(call.Route, $"{call.Path}: {answer.Said}");
        }
    }

    /// <summary>Counts an answer that had the right status and said something wrong.</summary>
    /// <param name="route">The route.</param>
    /// <param name="what">What was wrong.</param>
    public void Complain(string route, string what)
    {
        Interlocked.Increment(ref _routes.GetOrAdd(route, _ => new One()).Errors);
        if (_complaints.Count < ComplaintsKept)
        {
            _complaints.Enqueue($"{route}: {what}");
        }
    }

    /// <summary>The routes, the most asked first.</summary>
    public IReadOnlyList<RouteRow> Rows() =>
        [.. _routes.Select(pair => pair.Value.ToRow(pair.Key)).OrderByDescending(row => row.Requests).ThenBy(row => row.Route, StringComparer.Ordinal)];

    private sealed class One
    {
        public long Errors;

        public Percentiles Latencies { get; } = new();

        public ConcurrentDictionary<int, long> Statuses { get; } = new();

        public RouteRow ToRow(string route)
        {
            double[] at = Latencies.At(50, 95, 99, 100);
            return new RouteRow(route, Latencies.Count, Errors, at[0], at[1], at[2], at[3], new SortedDictionary<int, long>(Statuses.ToDictionary()));
        }
    }
}
