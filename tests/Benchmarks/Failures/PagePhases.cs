using System.Diagnostics;
using Washwear.Api.Failures;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Dashboard.Failures;

namespace Washwear.Benchmarks.Failures;

/// <summary>What the parts of the page about failures cost one after the other; the page itself computes several of them side by side.</summary>
internal static class PagePhases
{
    private const int Runs = 3;

    /// <summary>Computes the parts one by one on a program that remembers nothing, and prints their times.</summary>
    /// <param name="served">The program.</param>
    /// <param name="now">The instant.</param>
    public static async Task PrintAsync(Served served, DateTimeOffset now)
    {
        CancellationToken none = CancellationToken.None;
        FailureQueries queries = served.Service<FailureQueries>();
        IReadOnlyList<FleetLife> lives = await BestAsync("parts read", () => served.Service<FleetLives>().LoadFleetAsync(now, none));
        FittedParts models = await BestAsync("life models fitted", () => Task.FromResult(new FittedParts(lives)));
        WornPlaces worn = await BestAsync("units and batches tested", () => Task.FromResult(WornPlaces.Of(new Wear(now, models, lives))));
        await BestAsync("faults read", () => queries.ReadAsync(null, none));
        await BestAsync("when units were heard read", () => queries.HeardAsync(none));
        FailureSource source = await served.Service<FailureSources>().CurrentAsync(now, none);
        await BestAsync("washes by month read", () => queries.WashMonthsAsync(source.Washes.FirstMonth, source.Washes.LastMonth, none));
        FailureChoice choice = FailureQuestions.Filled(
            new FailureChoice { GapHours = FailureChoice.UsualGapHours, WindowDays = FailureChoice.UsualWindowDays }, now);
        await BestAsync("episodes of faults", () => Task.FromResult(FleetEpisodes.Of(source.Faults, source.Wear, choice.GapHours)));
        FailureView faults = await BestAsync("view of faults", () => Task.FromResult(source.View(choice, FailureKind.Faults, source.Washes)));
        FailureView parts = await BestAsync("view of parts", () => Task.FromResult(source.View(choice, FailureKind.Parts, source.Washes)));
        await BestAsync("trend", () => Task.FromResult(FailureTrendReports.Of(faults)));
        await BestAsync("recurrence", () => Task.FromResult(RecurrenceReports.Of(faults, fromIsChosen: false)));
        await BestAsync("rates", () => Task.FromResult(RateReports.Of(faults, source, new PageRequest(20, null))));
        await BestAsync("repeats", () => Task.FromResult(RepeatReports.Of(parts, source, worn, new PageRequest(25, null))));
        await BestAsync("pareto", () => served.Service<ParetoReports>().AssembleAsync(parts, none));
    }

    private static async Task<T> BestAsync<T>(string name, Func<Task<T>> work)
    {
        var best = (Seconds: double.PositiveInfinity, Used: 0.0);
        T? result = default;
        for (int run = 0; run < Runs; run++)
        {
            (long begin, TimeSpan used) = (Stopwatch.GetTimestamp(), Environment.CpuUsage.TotalTime);
            result = await work();
            double seconds = Stopwatch.GetElapsedTime(begin).TotalSeconds;
            best = seconds < best.Seconds ? (seconds, (Environment.CpuUsage.TotalTime - used).TotalSeconds) : best;
        }

        Report.Line($"  {name}: {1000 * best.Seconds:F0} ms, {1000 * best.Used:F0} ms of processor time (best of {Runs})");
        return result!;
    }
}
