using System.Collections.Concurrent;
using Washwear.Load.Measured;
using Washwear.Load.Traffic;

namespace Washwear.Load.Overload;

/// <summary>What came of the requests of one kind that were due in one stretch of time. Safe for concurrent use.</summary>
/// <param name="name">What is told of it.</param>
/// <param name="seconds">How long the stretch was.</param>
internal sealed class Phase(string name, double seconds)
{
    private const int ToldKept = 5;
    private readonly Percentiles _taken = new();
    private readonly Percentiles _shed = new();
    private readonly ConcurrentQueue<string> _wrongTold = new();
    private int _busy;
    private int _wrong;
    private int _unanswered;

    /// <summary>Its name.</summary>
    public string Name => name;

    /// <summary>Requests that were taken.</summary>
    public int Taken => _taken.Count;

    /// <summary>Requests that were told to come again, with 429 or 503 and a Retry-After.</summary>
    public int Shed => _shed.Count;

    /// <summary>Those of them that were told so with 503.</summary>
    public int Busy => _busy;

    /// <summary>Answers that are promised nowhere: another status, or no Retry-After.</summary>
    public int Wrong => _wrong;

    /// <summary>Requests without an answer in time.</summary>
    public int Unanswered => _unanswered;

    /// <summary>Requests taken a second.</summary>
    public double TakenPerSecond => Taken / seconds;

    /// <summary>95th percentile of what was taken, ms.</summary>
    public double P95 => _taken.At(95)[0];

    /// <summary>Counts an answer.</summary>
    /// <param name="answer">The answer.</param>
    public void Add(Answer answer)
    {
        switch (answer)
        {
            case { Status: 200 }:
                _taken.Add(answer.Milliseconds);
                break;
            case { Status: 429 or 503, RetryAfter: true }:
                _shed.Add(answer.Milliseconds);
                Interlocked.Add(ref _busy, answer.Status == 503 ? 1 : 0);
                break;
            case { Status: 0 }:
                Interlocked.Increment(ref _unanswered);
                break;
            default:
                Interlocked.Increment(ref _wrong);
                if (_wrongTold.Count < ToldKept)
                {
                    _wrongTold.Enqueue(answer.Said);
                }

                break;
        }
    }

    /// <summary>Tells of it and puts it into the file.</summary>
    /// <param name="report">Where.</param>
    /// <param name="offered">Requests that were due.</param>
    /// <param name="notSent">Those that this side did not send, at its own bound.</param>
    public void Tell(LoadReport report, int offered, int notSent)
    {
        double[] taken = _taken.At(50, 95, 99, 100);
        double[] shed = _shed.At(50, 95);
        report.Put(name, new
        {
            seconds,
            offered,
            not_sent = notSent,
            taken = Taken,
            shed = Shed,
            of_these_503 = Busy,
            unanswered = Unanswered,
            wrong = Wrong,
            taken_ms = new { p50 = taken[0], p95 = taken[1], p99 = taken[2], worst = taken[3] },
            shed_ms = new { p50 = shed[0], p95 = shed[1] },
        });
        report.Line($"{name}: {offered / seconds:0} a second due for {seconds:0} s; {Taken} taken ({TakenPerSecond:0} a second; median {taken[0]:0.0} ms, p95 {taken[1]:0.0}, p99 {taken[2]:0.0}, worst {taken[3]:0}), {Shed} told to come again (503: {Busy}; median {shed[0]:0.0} ms, p95 {shed[1]:0.0}), {Unanswered} without an answer, {Wrong} wrong, {notSent} not sent at this side's bound");
        foreach (string wrong in _wrongTold)
        {
            report.Line($"ERROR {name}: {wrong}");
        }
    }
}
