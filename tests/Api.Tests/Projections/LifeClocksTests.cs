using System.Data.Common;
using System.Globalization;
using Dapper;
using Washwear.Api.Projections;
using Washwear.Api.Storage;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Projections;

/// <summary>Washes and operating hours between two instants, worked out by hand.</summary>
public sealed class LifeClocksTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Begin = new(2025, 11, 1, 0, 0, 0, TimeSpan.Zero);
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task Counts_the_washes_that_ran_after_the_first_instant_and_up_to_the_second()
    {
        await SendAsync(
            Wash("a", 1), Wash("b", 2), Wash("b2", 2), Wash("c", 3, "stopped_by_person"), Wash("d", 4, "refused"), Wash("e", 5),
            Wash("by hand", 5, more: ""","attested_by":"kitchen" """), Wash("gone", 5.5),
            $$"""{"type":"void","key":"v","at":"{{At(6)}}","voids":"gone","reason":"wrong oven"}""");
        LifeClocks clocks = await LoadAsync();
        Assert.Equal(3, Washes(clocks, 1, 3));
        Assert.Equal(5, Washes(clocks, 0, 6));
        Assert.Equal(1, Washes(clocks, 3, 10));
        Assert.Equal(0, Washes(clocks, 5, 10));
        Assert.Equal(0, Washes(clocks, 2, 2));
        Assert.Null(Washes(clocks, 3, 2));
        Assert.Null(clocks.OperatingHoursBetween(Unit, Ms(1), Ms(3)));
    }

    [Fact]
    public async Task Readings_that_reach_over_the_span_win_and_are_interpolated()
    {
        await SendAsync(Wash("a", 1), Wash("b", 12), Meter("m1", 0, 100, 1000), Meter("m2", 10, 120, 1040), Meter("m3", 20, 180, null));
        LifeClocks clocks = await LoadAsync();
        Assert.Equal(10, Washes(clocks, 2.5, 7.5));
        Assert.Equal(10 + 30, Washes(clocks, 5, 15));
        Assert.Equal(80, Washes(clocks, 0, 20));
        Assert.Equal(1, Washes(clocks, 11, 21));
        Assert.Equal(20, clocks.OperatingHoursBetween(Unit, Ms(2.5), Ms(7.5)));
        Assert.Null(clocks.OperatingHoursBetween(Unit, Ms(2.5), Ms(15)));
    }

    [Fact]
    public async Task A_counter_that_began_anew_tells_nothing_across_that_place()
    {
        await SendAsync(Meter("m1", 0, null, 1000), Meter("m2", 10, null, 1100), Meter("m3", 20, null, 5), Meter("m4", 40, null, 2005));
        LifeClocks clocks = await LoadAsync();
        Assert.Equal(100, clocks.OperatingHoursBetween(Unit, Ms(0), Ms(10)));
        Assert.Null(clocks.OperatingHoursBetween(Unit, Ms(0), Ms(40)));
        Assert.Null(clocks.OperatingHoursBetween(Unit, Ms(12), Ms(13)));
        Assert.Equal(1000, clocks.OperatingHoursBetween(Unit, Ms(20), Ms(30)));
    }

    [Fact]
    public async Task A_voided_reading_is_none()
    {
        await SendAsync(
            Meter("m1", 0, null, 1000), Meter("m2", 5, null, 9999), Meter("m3", 10, null, 1100),
            $$"""{"type":"void","key":"v","at":"{{At(11)}}","voids":"m2","reason":"misread"}""");
        Assert.Equal(50, (await LoadAsync()).OperatingHoursBetween(Unit, Ms(0), Ms(5)));
    }

    [Fact]
    public async Task Washes_before_the_unit_was_on_record_are_not_taken_for_none()
    {
        await SendAsync(Wash("a", 30), Wash("b", 31));
        LifeClocks clocks = await LoadAsync();
        Assert.Null(Washes(clocks, 0, 31));
        Assert.Equal(2, Washes(clocks, 29, 31));
        Assert.Null(clocks.WashesBetween(Unit + 1, Ms(0), Ms(31)));
    }

    /// <summary>Washes on the seconds around ends of months, several at once, refused ones and some by hand, late and in any order; some are
    /// withdrawn and some corrected to another second. What is told between any two of the moments is what counting one by one tells.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task What_is_counted_by_months_is_what_counting_every_wash_gives(int seed)
    {
        var chance = new Random(seed);
        DateTimeOffset[] edges = [Begin, Begin.AddMonths(1), Begin.AddMonths(1).AddDays(3), Begin.AddMonths(2)];
        DateTimeOffset Any() => edges[chance.Next(edges.Length)].AddSeconds(chance.Next(-3, 4));
        var counted = new List<DateTimeOffset>();
        int changes = 0;
        foreach (int part in Enumerable.Range(0, 4))
        {
            string[] washes = [.. Enumerable.Range(0, 30).Select(number =>
            {
                (string outcome, string more, bool counts) = chance.Next(6) switch
                {
                    0 => ("refused", "", false),
                    1 => ("completed", ""","attested_by":"kitchen" """, false),
                    2 => ("stopped_by_person", "", true),
                    _ => ("completed", "", true),
                };
                (string key, DateTimeOffset at, int fate) = ($"w{part}-{number}", Any(), chance.Next(5));
                string wash = Sending.Wash(key, Second(at), outcome, more);
                if (fate == 0)
                {
                    changes++;
                    return wash + "\n" + $$"""{"type":"void","key":"v-{{key}}","at":"{{Second(at)}}","voids":"{{key}}","reason":"wrong oven"}""";
                }

                if (fate == 1)
                {
                    changes++;
                    at = Any();
                    wash += "\n" + Sending.Wash("c-" + key, Second(at), outcome, more + $$""","replaces":"{{key}}" """);
                }

                if (counts)
                {
                    counted.Add(at);
                }

                return wash;
            })];
            await SendAsync([.. washes.SelectMany(wash => wash.Split('\n'))]);
        }

        Assert.True(changes > 20);
        DateTimeOffset[] moments = [.. edges.SelectMany(edge => Enumerable.Range(-4, 9).Select(seconds => edge.AddSeconds(seconds)))];
        LifeClocks clocks = await LoadAsync([.. moments.Select(moment => (Unit, moment.ToUnixTimeMilliseconds()))]);
        foreach (DateTimeOffset from in moments)
        {
            foreach (DateTimeOffset to in moments.Where(to => to >= from))
            {
                Assert.Equal(
                    counted.Count(at => at > from && at <= to), clocks.WashesBetween(Unit, from.ToUnixTimeMilliseconds(), to.ToUnixTimeMilliseconds()));
            }
        }
    }

    private static int Unit => 1;

    private static double? Washes(LifeClocks clocks, double fromDay, double toDay) => clocks.WashesBetween(Unit, Ms(fromDay), Ms(toDay));

    private static long Ms(double day) => Begin.AddDays(day).ToUnixTimeMilliseconds();

    private static string At(double day) => Begin.AddDays(day).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static string Second(DateTimeOffset at) => at.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static string Wash(string key, double day, string outcome = "completed", string more = "") =>
        Sending.Wash(key, At(day), outcome, more);

    private static string Meter(string key, double day, double? washes, double? hours) => string.Create(
        CultureInfo.InvariantCulture,
        $$"""{"type":"meter","key":"{{key}}","unit":"OVEN-1","at":"{{At(day)}}","washes_total":{{Json(washes)}},"operating_hours_total":{{Json(hours)}}}""");

    private static string Json(double? number) => number?.ToString(CultureInfo.InvariantCulture) ?? "null";

    private async Task SendAsync(params string[] records) => Sending.AssertCounts(
        await Sending.SendAsync(_host.Admin, string.Join('\n', records), "application/x-ndjson"), accepted: records.Length);

    // Every half a day, so that a test may ask for what it likes.
    private Task<LifeClocks> LoadAsync() => LoadAsync([.. Enumerable.Range(0, 100).SelectMany(half => new[] { (Unit, Ms(half / 2.0)), (Unit + 1, Ms(half / 2.0)) })]);

    private async Task<LifeClocks> LoadAsync(HashSet<(int UnitId, long AtMs)> moments)
    {
        await using DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        await using DbTransaction transaction = Database.BeginReading(connection);
        Assert.Equal(Unit, await connection.ExecuteScalarAsync<int>("SELECT id FROM unit", transaction: transaction));
        return await LifeClocks.LoadAsync(connection, transaction, moments, CancellationToken.None);
    }
}
