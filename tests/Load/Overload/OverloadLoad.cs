using System.Globalization;
using Washwear.Faults.Served;
using Washwear.Load.Fleet;
using Washwear.Load.Measured;
using Washwear.Load.Traffic;

namespace Washwear.Load.Overload;

/// <summary>How an overload is tried, and what it is held to.</summary>
/// <param name="ShortSeconds">How long what it carries is measured, and half of it before the overload.</param>
/// <param name="OverSeconds">How long the overload lasts, and the flood of questions.</param>
/// <param name="MostInFlight">Most posts under way at once.</param>
/// <param name="MostAsked">Most questions under way at once.</param>
/// <param name="MostGrowthMib">Most that resident memory may grow, MiB.</param>
internal sealed record OverloadOptions(double ShortSeconds, double OverSeconds, int MostInFlight, int MostAsked, double MostGrowthMib);

/// <summary>More than the program can carry, and back; what it then promises is looked at in the file.</summary>
internal static class OverloadLoad
{
    private const int MostFactor = 8;

    // 'As before' is at most twice the 95th percentile of before, or this much more than it.
    private const double AsBeforeMs = 25;
    private const double AsBeforeFactor = 2;
    private const double BesideQuestionsMs = 250;
    private const double BesideQuestionsFactor = 5;
    private static readonly TimeSpan PostPatience = TimeSpan.FromSeconds(15);
    private static readonly TimeSpan AskPatience = TimeSpan.FromSeconds(30);

    /// <summary>Runs it.</summary>
    /// <param name="options">Where.</param>
    /// <param name="overload">How.</param>
    /// <returns>0: every limit was kept; 1: not.</returns>
    public static async Task<int> RunAsync(LoadOptions options, OverloadOptions overload)
    {
        DateTimeOffset stamp = TimeProvider.System.GetUtcNow();
        PreparedFleet fleet = PreparedFleet.Read(options.Folder);
        IReadOnlyList<LoadKey> keys = await KeyRing.ReadOrMakeAsync(options, fleet);
        var report = new LoadReport("overload", options);
        report.Machine();
        report.Line($"{fleet.Units.Count} units in use, {fleet.Records} records prepared; a post is given up after {PostPatience.TotalSeconds:0} s, a question after {AskPatience.TotalSeconds:0} s");
        var sent = new SentRecords(string.Create(CultureInfo.InvariantCulture, $"o{stamp:yyyyMMddHHmmss}"));
        await using ServedProgram program = await options.ServeAsync();
        Uri address = await program.ListensAsync();
        using (var posts = new Caller(address, overload.MostInFlight, PostPatience))
        using (var questions = new Caller(address, overload.MostAsked, AskPatience))
        {
            await JudgeAsync(new OverloadRun(fleet, keys, posts, questions, sent, overload, options.Seed, report), program, overload, report);
        }

        await program.StopAsync();
        report.Against(new Limit("exit code of the program when it was told to stop", program.ExitCode, 0));
        Ledgered.Check(options.Database, sent, [], report);
        return report.End(stamp);
    }

    private static async Task JudgeAsync(OverloadRun run, ServedProgram program, OverloadOptions overload, LoadReport report)
    {
        double answers = await run.AnswersAsync();
        double carries = await run.CarriesAsync();
        report.Put("carries_per_second", carries);
        report.Put("answers_per_second", answers);
        await using var watch = new ServerWatch(program.Pid, TimeSpan.FromSeconds(1));
        Phase before = await run.BeforeAsync(carries);
        (Phase over, Phase after) = await run.OverAsync(carries, 2);
        for (int factor = 4; over.Shed == 0 && factor <= MostFactor; factor *= 2)
        {
            report.Line($"Nothing had to be shed; {factor} times is tried.");
            (over, after) = await run.OverAsync(carries, factor);
        }

        report.Against(new Limit("posts that were told to come again in the overload", over.Shed, 1, Least: true));
        report.Against(new Limit("posts after the overload that were not taken", after.Shed + after.Unanswered, 0));
        report.Against(new Limit("95th percentile after the overload, ms", after.P95, Math.Max(AsBeforeFactor * before.P95, before.P95 + AsBeforeMs)));
        (Phase posted, Phase asked) = await run.QuestionsAsync(carries, answers);
        report.Against(new Limit("posts beside dear questions that were not taken", posted.Shed + posted.Unanswered + posted.Wrong, 0));
        report.Against(new Limit("95th percentile of posts beside dear questions, ms", posted.P95, Math.Max(BesideQuestionsFactor * before.P95, BesideQuestionsMs)));
        report.Against(new Limit("dear questions that were neither answered nor told to come again", asked.Unanswered + asked.Wrong, 0));
        report.Against(new Limit("answers that are promised nowhere: another status, or no Retry-After", run.Wrong, 0));
        ServerUse use = report.Server("server", watch);
        report.Against(new Limit("growth of resident memory, MiB", use.LargestMib - use.BeginMib, overload.MostGrowthMib));
    }
}
