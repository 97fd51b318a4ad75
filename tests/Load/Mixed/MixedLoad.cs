using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Washwear.Faults.Served;
using Washwear.Load.Fleet;
using Washwear.Load.Measured;
using Washwear.Load.Traffic;

namespace Washwear.Load.Mixed;

/// <summary>How a mixed day is lived, and what it is held to.</summary>
/// <param name="Clients">How many clients.</param>
/// <param name="Lasts">How long.</param>
/// <param name="Think">What think times are multiplied by.</param>
/// <param name="MostPostMs">Most that 95 of 100 requests with records may take, ms.</param>
/// <param name="MostOtherMs">Most that 95 of 100 other requests may take, ms.</param>
internal sealed record MixedOptions(int Clients, TimeSpan Lasts, double Think, double MostPostMs, double MostOtherMs);

/// <summary>Gateways, technicians, managers, planners and other readers, all at once, on a prepared fleet.</summary>
internal static class MixedLoad
{
    // Memory is called flat when it grows, by the line through the last two thirds, by no more than this share or this many MiB. A run that is
    // shorter than this is over before the runtime has settled.
    private static readonly TimeSpan LongEnough = TimeSpan.FromMinutes(5);
    private const double FlatShare = 0.05;
    private const double FlatMib = 24;
    private const int AskedAtOnce = 4;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(10);

    // Of twenty clients.
    private static readonly string[] Roles =
    [
        "gateway", "gateway", "gateway", "gateway", "gateway", "gateway", "gateway", "gateway", "technician", "technician", "technician", "technician",
        "manager", "manager", "manager", "planner", "reader", "reader", "reader", "reader",
    ];

    /// <summary>Runs it.</summary>
    /// <param name="options">Where.</param>
    /// <param name="mixed">How.</param>
    /// <returns>0: every limit was kept; 1: not.</returns>
    public static async Task<int> RunAsync(LoadOptions options, MixedOptions mixed)
    {
        DateTimeOffset stamp = TimeProvider.System.GetUtcNow();
        PreparedFleet fleet = PreparedFleet.Read(options.Folder);
        IReadOnlyList<LoadKey> keys = await KeyRing.ReadOrMakeAsync(options, fleet);
        var report = new LoadReport("mixed", options);
        report.Machine();
        report.Line($"{fleet.Units.Count} units in use, {fleet.Records} records prepared; {mixed.Clients} clients for {mixed.Lasts.TotalMinutes:0.##} minutes, think times times {mixed.Think:0.##}");
        var sent = new SentRecords(string.Create(CultureInfo.InvariantCulture, $"m{stamp:yyyyMMddHHmmss}"));
        await using ServedProgram program = await options.ServeAsync();
        using var caller = new Caller(await program.ListensAsync(), mixed.Clients, Patience);
        await AskOnceAsync(new MixedRun(fleet, caller, new Figures(), sent, 0, CancellationToken.None), keys, report);
        using var until = new CancellationTokenSource();
        var run = new MixedRun(fleet, caller, new Figures(), sent, mixed.Think, until.Token);
        await LiveAsync(program, run, keys, options, mixed, report, until);
        await program.StopAsync();
        report.Against(new Limit("exit code of the program when it was told to stop", program.ExitCode, 0));
        Ledgered.Check(options.Database, sent, run.Decided, report);
        return report.End(stamp);
    }

    private static async Task LiveAsync(
        ServedProgram program, MixedRun run, IReadOnlyList<LoadKey> keys, LoadOptions options, MixedOptions mixed, LoadReport report, CancellationTokenSource until)
    {
        await using var watch = new ServerWatch(program.Pid, LookEvery);
        long start = Stopwatch.GetTimestamp();
        Client[] clients = [.. Enumerable.Range(0, mixed.Clients).Select(number => ClientOf(number, run, keys, options.Seed))];
        Task lives = Task.WhenAll(clients.Select(client => Task.Run(client.LiveAsync)));
        until.CancelAfter(mixed.Lasts);
        await TellAsync(run, watch, report, lives, start);
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        report.Routes("routes", run.Figures);
        report.Line($"{run.Figures.Requests} requests in {seconds:0} s: {run.Figures.Requests / seconds:0.0} a second");
        ServerUse use = report.Server("server", watch);
        double[] posts = run.Figures.Posts.At(50, 95, 99);
        double[] others = run.Figures.Others.At(50, 95, 99);
        report.Put("posts_ms", posts);
        report.Put("others_ms", others);
        report.Line($"with records: median {posts[0]:0.0} ms, 99th percentile {posts[2]:0.0} ms; others: median {others[0]:0.0} ms, 99th percentile {others[2]:0.0} ms");
        report.Against(new Limit("requests without an answer, or with one that was not expected", run.Figures.Errors, 0));
        report.Against(new Limit("requests with records, 95th percentile, ms", posts[1], mixed.MostPostMs));
        report.Against(new Limit("other requests, 95th percentile, ms", others[1], mixed.MostOtherMs));
        if (mixed.Lasts < LongEnough)
        {
            report.Line($"A run of less than {LongEnough.TotalMinutes:0} minutes says nothing about memory in the long run: it grew by {use.GrowthMib:0} MiB over the last two thirds.");
            return;
        }

        report.Against(new Limit("growth of resident memory over the last two thirds, MiB", use.GrowthMib, Math.Max(FlatMib, FlatShare * use.MiddleMib)));
    }

    // What is computed once and kept is computed before it is measured; how long that takes is told.
    private static async Task AskOnceAsync(MixedRun run, IReadOnlyList<LoadKey> keys, LoadReport report)
    {
        var took = new ConcurrentQueue<(string Route, Answer Answer)>();
        long start = Stopwatch.GetTimestamp();
        await Parallel.ForEachAsync(keys, new ParallelOptions { MaxDegreeOfParallelism = AskedAtOnce }, async (key, _) =>
        {
            var random = new Random(1);
            IReadOnlyList<FleetUnit> units = key.Seen(run.Fleet);
            foreach (Question question in Questions.Of(key.Role))
            {
                Answer answer = await run.AskAsync(Call.Get(question.Route, question.Path(units[random.Next(units.Count)], random), key.Secret));
                took.Enqueue((question.Route + " by " + key.Name, answer));
            }
        });
        report.Line($"{took.Count} questions asked for the first time, {AskedAtOnce} at once, in {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s");
        report.Put("cold", took.Select(one => new { one.Route, one.Answer.Status, one.Answer.Milliseconds }));
        foreach ((string route, Answer answer) in took.OrderByDescending(one => one.Answer.Milliseconds).Take(5))
        {
            report.Line($"asked for the first time: {route}: {answer.Milliseconds:0} ms");
        }

        foreach (string complaint in run.Figures.Complaints)
        {
            report.Line($"ERROR {complaint}");
        }

        report.Against(new Limit("first answers that were not expected", run.Figures.Errors, 0));
    }

    private static async Task TellAsync(MixedRun run, ServerWatch watch, LoadReport report, Task lives, long start)
    {
        while (await Task.WhenAny(lives, Task.Delay(LookEvery)) != lives)
        {
            Look last = watch.Looks[^1];
            report.Line($"  {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s: {run.Figures.Requests} requests, {run.Figures.Errors} errors, {run.Sent.Count} records, {last.ResidentMib:0} MiB, {last.ProcessorSeconds:0.0} s of processor");
        }

        await lives;
    }

    private static Client ClientOf(int number, MixedRun run, IReadOnlyList<LoadKey> keys, int seed)
    {
        string role = Roles[number % Roles.Length];
        LoadKey[] ofRole = [.. keys.Where(key => key.Role == role)];
        LoadKey key = ofRole[((number / Roles.Length) + number) % ofRole.Length];
        var random = new Random(unchecked((seed * 1_000_003) + number));
        return role switch
        {
            "gateway" => new GatewayClient(run, key, random),
            "technician" => new TechnicianClient(run, key, random),
            "manager" => new ManagerClient(run, key, random),
            "planner" => new AskingClient(run, key, random, 20),
            _ => new AskingClient(run, key, random, 6),
        };
    }
}
