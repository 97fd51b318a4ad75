using System.Diagnostics;
using System.Net.Http.Headers;
using System.Text;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Cleaning;

/// <summary>
/// Cleaning of a large fleet over HTTP: daily washes of many units, asked with one year of records and with three. Every question is asked
/// right after a new wash came in, so that nothing is answered from what was asked before.
/// </summary>
internal static class FleetBenchmark
{
    private const int Questions = 40;
    private const int UnitsPerSite = 5;
    private const int DaysAYear = 365;
    private const double MostGrowth = 1.2;

    /// <summary>Runs it.</summary>
    /// <param name="units">How many units; the limits are meant for 10,000.</param>
    public static async Task RunAsync(int units)
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        Report.Line($"Once with few units, not counted, so that the program is warm:");
        await MeasureAsync(new Invented(100, now, 1));
        IReadOnlyDictionary<string, double> first = await MeasureAsync(new Invented(units, now, 1));
        IReadOnlyDictionary<string, double> third = await MeasureAsync(new Invented(units, now, 3));
        foreach ((string what, double seconds) in third)
        {
            Report.Against($"{what}: three years against one", seconds / first[what], MostGrowth, least: false);
        }
    }

    private static async Task<IReadOnlyDictionary<string, double>> MeasureAsync(Invented fleet)
    {
        await using Served served = await Served.StartAsync();
        await served.Service<RegistryWriter>().PutAsync(fleet.Registry(), CancellationToken.None);
        long start = Stopwatch.GetTimestamp();
        IngestAnswer loaded = await served.Service<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
        double took = Stopwatch.GetElapsedTime(start).TotalSeconds;
        double megabytes = new FileInfo(served.Database.File).Length / 1e6;
        Report.Line($"{fleet.Years} years, {fleet.Units} units: {loaded.Accepted} records in {took:F0} s ({loaded.Accepted / took:F0} a second), {megabytes:F0} MB");
        var medians = new Dictionary<string, double>();
        var random = new Random(1);
        async Task AskAsync(string what, double most, Func<string> path)
        {
            double[] seconds = new double[Questions];
            for (int i = -3; i < Questions; i++)
            {
                await PostAsync(served, fleet.Next(random));
                long begin = Stopwatch.GetTimestamp();
                using HttpResponseMessage answer = await served.Client.GetAsync(path());
                byte[] body = await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync();
                seconds[Math.Max(0, i)] = body.Length > 0 ? Stopwatch.GetElapsedTime(begin).TotalSeconds : 0;
            }

            Array.Sort(seconds);
            medians[what] = seconds[Questions / 2];
            Report.Line($"{what}: median {1000 * medians[what]:F1} ms");
            Report.Against($"{what}, 95th percentile, ms", 1000 * seconds[(int)(Questions * 0.95)], most, least: false);
        }

        string Window()
        {
            DateTimeOffset to = fleet.Now.AddDays(-random.Next(1, Math.Max(2, (DaysAYear * fleet.Years) - 95))).AddMinutes(random.Next(1440));
            return FormattableString.Invariant($"from={to.AddDays(-90):yyyy-MM-ddTHH:mm:ssZ}&to={to:yyyy-MM-ddTHH:mm:ssZ}");
        }

        await AskAsync("status, worst 100", 100, () => "/v1/cleaning/status?state=overdue");
        await AskAsync("status of one operator", 100, () => "/v1/cleaning/status?operator=OP-1&limit=100");
        await AskAsync("overview", 100, () => "/v1/today");
        await AskAsync("compliance of 90 days up to now by operator", 500, () => "/v1/cleaning/compliance?days=90&by=operator");
        await AskAsync("compliance of any 90 days by site", 500, () => "/v1/cleaning/compliance?by=site&" + Window());
        await AskAsync("compliance of any 90 days by unit", 500, () => "/v1/cleaning/compliance?by=unit&limit=1000&" + Window());
        medians["one new wash"] = await PostsAsync(served, fleet, random);
        return medians;
    }

    private static async Task<double> PostsAsync(Served served, Invented fleet, Random random)
    {
        const int Posts = 400;
        var seconds = new List<double>();
        for (int i = 0; i < Posts; i++)
        {
            long begin = Stopwatch.GetTimestamp();
            await PostAsync(served, fleet.Next(random));
            seconds.Add(Stopwatch.GetElapsedTime(begin).TotalSeconds);
        }

        seconds.Sort();
        Report.Line($"one new wash, posted and committed: median {1000 * seconds[Posts / 2]:F2} ms, 95th percentile {1000 * seconds[(int)(Posts * 0.95)]:F2} ms");
        return seconds[Posts / 2];
    }

    private static async Task PostAsync(Served served, string body)
    {
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(body));
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using HttpResponseMessage answer = await served.Client.PostAsync("/v1/records", content);
        answer.EnsureSuccessStatusCode();
    }

    /// <summary>An invented fleet: every unit washes on most days, a few are stopped or do not wash for a while.</summary>
    private sealed class Invented(int units, DateTimeOffset now, int years)
    {
        private const string Source = "benchmark";
        private readonly DateTimeOffset[] _last = [.. Enumerable.Repeat(now.AddHours(-1), units)];
        private int _keys;

        public int Units => units;

        public int Years => years;

        public DateTimeOffset Now => now;

        public RegistryDocument Registry()
        {
            int sites = (units + UnitsPerSite - 1) / UnitsPerSite;
            DateOnly begin = DateOnly.FromDateTime(now.UtcDateTime.AddDays(-(DaysAYear * years) - 3));
            return new RegistryDocument(
                [.. Enumerable.Range(0, 20).Select(o => new OperatorResource($"OP-{o}", $"Operator {o} (invented)"))],
                [
                    .. Enumerable.Range(0, sites).Select(s => new SiteResource(
                        $"SITE-{s}", $"OP-{s % 20}", $"Kitchen {s} (invented)", s % 2 == 0 ? "Europe/Vienna" : "America/Chicago", $"region {s % 7}",
                        TradingDays: new TradingDaysResource(["mon", "tue", "wed", "thu", "fri", "sat"], "02:00"))),
                ],
                [
                    new ModelResource(
                        "M", "Oven (invented)", "combi oven",
                        [new PositionResource("pump", "Wash pump"), new PositionResource("hose", "Hose"), new PositionResource("valve", "Drain valve")],
                        [new ProgrammeResource("daily", ProgrammeGrade.Standard), new ProgrammeResource("weekly", ProgrammeGrade.Intensive)],
                        [new FaultResource("F1", "No water circulates", LocksOutWashing: true)]),
                ],
                [.. Enumerable.Range(0, units).Select(u => new UnitResource($"U-{u}", $"SITE-{u / UnitsPerSite}", "M", null, begin))],
                [
                    new RuleResource("daily", new RuleScopeResource(), ProgrammeGrade.Standard, 1, null, 4, "invented"),
                    new RuleResource("weekly", new RuleScopeResource(), ProgrammeGrade.Intensive, 6, null, 24, "invented"),
                ]);
        }

        /// <summary>The records of all years up to now, unit by unit.</summary>
        public IEnumerable<IncomingRecord> Records() =>
            Enumerable.Range(0, units).SelectMany(unit => Of(unit, now.AddHours(-4), DaysAYear * years));

        /// <summary>A wash that has just ended.</summary>
        public string Next(Random random)
        {
            int unit = random.Next(units);
            _last[unit] = _last[unit].AddSeconds(2);
            return FormattableString.Invariant(
                $$"""{"type":"wash","key":"n{{_keys++}}","unit":"U-{{unit}}","at":"{{_last[unit]:yyyy-MM-ddTHH:mm:ssZ}}","ended_at":"{{_last[unit].AddSeconds(1):yyyy-MM-ddTHH:mm:ssZ}}","grade":"standard","outcome":"completed"}""");
        }

        private static IEnumerable<IncomingRecord> Of(int unit, DateTimeOffset end, int days)
        {
            var random = new Random((unit * 7919) + days);
            string code = $"U-{unit}";
            int lazy = random.Next(days);
            for (int day = days; day > 0; day--)
            {
                DateTimeOffset at = end.AddDays(-day).AddMinutes(random.Next(180));
                string key = $"{unit}-{days}-{day}";
                if (day % 180 == 90)
                {
                    yield return new PartChangeRecord(
                        Source, key + "p", code, at, null, random.Next(3) switch { 0 => "pump", 1 => "hose", _ => "valve" },
                        new RemovedPart(random.Next(2) == 0 ? RemovalReason.Failed : RemovalReason.Precaution, null, null, null), new NewPart("P", null, null, null, null));
                }

                if (Math.Abs(day - lazy) > 5 && random.Next(25) > 0)
                {
                    yield return new WashRecord(
                        Source, key, code, at, null, at.AddMinutes(100), day % 6 == 0 ? "weekly" : "daily", null,
                        random.Next(40) == 0 ? WashOutcome.StoppedByPerson : WashOutcome.Completed, null, null, null, null);
                }
            }
        }
    }
}
