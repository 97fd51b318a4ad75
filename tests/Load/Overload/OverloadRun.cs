using System.Diagnostics;
using Washwear.Load.Fleet;
using Washwear.Load.Measured;
using Washwear.Load.Traffic;

namespace Washwear.Load.Overload;

/// <summary>The stretches of an overload, one after the other.</summary>
/// <param name="fleet">The fleet.</param>
/// <param name="keys">The keys.</param>
/// <param name="posts">Sends what is posted.</param>
/// <param name="questions">Sends what is asked.</param>
/// <param name="sent">The records that were sent.</param>
/// <param name="options">How.</param>
/// <param name="seed">Seed.</param>
/// <param name="report">Where it is told.</param>
internal sealed class OverloadRun(
    PreparedFleet fleet, IReadOnlyList<LoadKey> keys, Caller posts, Caller questions, SentRecords sent, OverloadOptions options, int seed, LoadReport report)
{
    private const double WorthMore = 1.1;
    private const double Settles = 5;
    private const double Judged = 10;

    // The program writes together what waits together, so that more clients get more through, up to a point.
    private static readonly int[] ClosedClients = [64, 256, 512];
    private static readonly int ClosedAskers = Math.Max(4, 2 * Environment.ProcessorCount);

    private readonly List<Phase> _phases = [];
    private int _seeds = seed * 1000;

    /// <summary>Answers so far that are promised nowhere.</summary>
    public int Wrong => _phases.Sum(phase => phase.Wrong);

    /// <summary>Posts that the program carries a second: the most that a number of clients gets through, each of which waits for its answer.</summary>
    public async Task<double> CarriesAsync()
    {
        await ClosedAsync("posts, warming up", ClosedClients[0], options.ShortSeconds / 2, posts, (poster, phase) => poster.Post(null, phase));
        double most = 0;
        foreach (int clients in ClosedClients)
        {
            double rate = await ClosedAsync($"posts, {clients} clients that wait for each answer", clients, options.ShortSeconds, posts, (poster, phase) => poster.Post(null, phase));
            if (rate < WorthMore * most)
            {
                return Math.Max(rate, most);
            }

            most = rate;
        }

        return most;
    }

    /// <summary>Dear questions that are answered a second to clients that wait for each answer.</summary>
    public async Task<double> AnswersAsync()
    {
        await ClosedAsync("dear questions, for the first time", ClosedAskers, options.ShortSeconds / 2, questions, (poster, phase) => poster.Ask(null, phase));
        return await ClosedAsync(
            $"dear questions, {ClosedAskers} clients that wait for each answer", ClosedAskers, options.ShortSeconds, questions, (poster, phase) => poster.Ask(null, phase));
    }

    /// <summary>Half of what it carries, before any overload.</summary>
    /// <param name="carries">Requests a second that it carries.</param>
    public async Task<Phase> BeforeAsync(double carries)
    {
        var loop = new OpenLoop(options.MostInFlight);
        var phase = NewPhase("posts, half of that, before", options.ShortSeconds);
        Poster poster = NewPoster(posts);
        await loop.RunAsync(carries / 2, TimeSpan.FromSeconds(options.ShortSeconds), NewRandom(), due => poster.Post(due, phase));
        await loop.DrainAsync();
        phase.Tell(report, loop.Sent + loop.NotSent, loop.NotSent);
        return phase;
    }

    /// <summary>More than it carries; then, without a pause, half of it again.</summary>
    /// <param name="carries">Requests a second that it carries.</param>
    /// <param name="factor">How many times that.</param>
    /// <returns>The overload, and what came from 5 s after it on.</returns>
    public async Task<(Phase Over, Phase After)> OverAsync(double carries, double factor)
    {
        var loop = new OpenLoop(options.MostInFlight);
        var half = new OpenLoop(options.MostInFlight);
        var over = NewPhase($"posts, {factor:0} times what it carries", options.OverSeconds);
        var settling = NewPhase($"posts, half of that, the first {Settles:0} s after {factor:0} times", Settles);
        var after = NewPhase($"posts, half of that, from {Settles:0} s after {factor:0} times on", Judged);
        Poster poster = NewPoster(posts);
        await loop.RunAsync(factor * carries, TimeSpan.FromSeconds(options.OverSeconds), NewRandom(), due => poster.Post(due, over));
        long fell = Stopwatch.GetTimestamp();
        int settled = 0;
        await half.RunAsync(carries / 2, TimeSpan.FromSeconds(Settles + Judged), NewRandom(), due =>
        {
            bool settles = Stopwatch.GetElapsedTime(fell, due).TotalSeconds < Settles;
            settled += settles ? 1 : 0;
            return poster.Post(due, settles ? settling : after);
        });
        await loop.DrainAsync();
        await half.DrainAsync();
        over.Tell(report, loop.Sent + loop.NotSent, loop.NotSent);
        settling.Tell(report, settled, 0);
        after.Tell(report, half.Sent - settled + half.NotSent, half.NotSent);
        report.Line($"most under way at once: {loop.MostSeen} (bound {options.MostInFlight}); this side began a request at most {loop.LatestMs:0} ms after it was due, half the load {half.LatestMs:0} ms");
        return (over, after);
    }

    /// <summary>Half of what it carries of posts, with twice the dear questions that it answers.</summary>
    /// <param name="carries">Posts a second that it carries.</param>
    /// <param name="answers">Dear questions a second that it answers.</param>
    public async Task<(Phase Posts, Phase Questions)> QuestionsAsync(double carries, double answers)
    {
        var postLoop = new OpenLoop(options.MostInFlight);
        var askLoop = new OpenLoop(options.MostAsked);
        var posted = NewPhase("posts, half, with dear questions", options.OverSeconds);
        var asked = NewPhase("dear questions, twice what is answered", options.OverSeconds);
        Poster poster = NewPoster(posts);
        Poster asker = NewPoster(questions);
        TimeSpan lasts = TimeSpan.FromSeconds(options.OverSeconds);
        await Task.WhenAll(
            postLoop.RunAsync(carries / 2, lasts, NewRandom(), due => poster.Post(due, posted)),
            askLoop.RunAsync(Math.Max(1, 2 * answers), lasts, NewRandom(), due => asker.Ask(due, asked)));
        await postLoop.DrainAsync();
        await askLoop.DrainAsync();
        posted.Tell(report, postLoop.Sent + postLoop.NotSent, postLoop.NotSent);
        asked.Tell(report, askLoop.Sent + askLoop.NotSent, askLoop.NotSent);
        return (posted, asked);
    }

    private async Task<double> ClosedAsync(string name, int clients, double seconds, Caller caller, Func<Poster, Phase, Func<Task>> next)
    {
        var phase = NewPhase(name, seconds);
        long start = Stopwatch.GetTimestamp();
        Poster[] each = [.. Enumerable.Range(0, clients).Select(_ => NewPoster(caller))];
        await Task.WhenAll(each.Select(poster => Task.Run(async () =>
        {
            while (Stopwatch.GetElapsedTime(start).TotalSeconds < seconds)
            {
                await next(poster, phase)();
            }
        })));
        phase.Tell(report, phase.Taken + phase.Shed + phase.Unanswered + phase.Wrong, 0);
        return phase.Taken / Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    private Phase NewPhase(string name, double seconds)
    {
        var phase = new Phase(name, seconds);
        _phases.Add(phase);
        return phase;
    }

    private Poster NewPoster(Caller caller) => new(fleet, keys, caller, sent, ++_seeds);

    private Random NewRandom() => new(++_seeds);
}
