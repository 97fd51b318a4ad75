using System.Diagnostics;
using System.Globalization;
using Washwear.Analytics.PartLife;

namespace Washwear.Benchmarks.PartLife;

/// <summary>Weibull maximum likelihood with profile bounds on right-censored lives, beside R's survreg on the same lives.</summary>
internal static class WeibullBenchmark
{
    private const int Seed = 20261;
    private const double Shape = 2.3;
    private const double Scale = 900;
    private const double LeastTimesFaster = 20;
    private const double MostTimesInput = 3;

    public static async Task RunAsync()
    {
        foreach (int n in new[] { 1_000, 100_000, 1_000_000 })
        {
            (double[] ages, bool[] failed) = Simulate(n);
            Lives lives = Build(ages, failed);
            double seconds = Report.MedianSeconds(5, () => Fit(lives));
            long before = GC.GetAllocatedBytesForCurrentThread();
            Fit(lives);
            double allocated = GC.GetAllocatedBytesForCurrentThread() - before;
            Report.Line($"n = {n}: {failed.Count(f => f)} failures; fit with bounds on shape, scale, mean, B10, B50 in {1000 * seconds:G4} ms");
            Report.Against("  memory allocated by the fit, times the input (9 bytes a life)", allocated / (9.0 * n), MostTimesInput, least: false);
            if (await SurvregSecondsAsync(ages, failed) is { } survreg)
            {
                Report.Line($"  survreg without profile bounds: {1000 * survreg:G4} ms");
                Report.Against("  times faster than survreg", survreg / seconds, n == 1_000_000 ? LeastTimesFaster : 1, least: true);
            }
            else
            {
                Report.Line($"  R with its survival package is not installed: comparison left out");
            }
        }
    }

    private static LifeBounds Fit(Lives lives) => WeibullBounds.Of((FittedLife)WeibullFit.Fit(lives));

    private static Lives Build(double[] ages, bool[] failed)
    {
        var builder = new LivesBuilder("days", ages.Length);
        for (int i = 0; i < ages.Length; i++)
        {
            _ = failed[i] ? builder.FailedAt(ages[i]) : builder.StillRunningAt(ages[i]);
        }

        return builder.Build();
    }

    // Parts come into service evenly over two scales, so that about six in ten are still running.
    private static (double[] Ages, bool[] Failed) Simulate(int n)
    {
        var random = new Random(Seed);
        var ages = new double[n];
        var failed = new bool[n];
        for (int i = 0; i < n; i++)
        {
            double life = Scale * Math.Pow(-Math.Log(1 - random.NextDouble()), 1 / Shape);
            double watched = 2 * Scale * (1 - random.NextDouble()) * 0.8;
            (ages[i], failed[i]) = (Math.Min(life, watched), life <= watched);
        }

        return (ages, failed);
    }

    private static async Task<double?> SurvregSecondsAsync(double[] ages, bool[] failed)
    {
        string data = Path.GetTempFileName();
        try
        {
            await File.WriteAllLinesAsync(data, ages.Select((age, i) =>
                string.Create(CultureInfo.InvariantCulture, $"{age:R} {(failed[i] ? 1 : 0)}")));
            const string Script = """
                d <- matrix(scan(commandArgs(TRUE)[1], quiet = TRUE), ncol = 2, byrow = TRUE)
                s <- survival::Surv(d[, 1], d[, 2])
                invisible(survival::survreg(s ~ 1))
                t <- sapply(1:3, function(i) system.time(survival::survreg(s ~ 1))[["elapsed"]])
                cat(median(t))
                """;
            using var r = Process.Start(new ProcessStartInfo("Rscript", ["-e", Script, data]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            string output = await r.StandardOutput.ReadToEndAsync();
            await r.WaitForExitAsync();
            return r.ExitCode == 0 ? double.Parse(output, CultureInfo.InvariantCulture) : null;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
        finally
        {
            File.Delete(data);
        }
    }
}
