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

    private static int Unit => 1;

    private static double? Washes(LifeClocks clocks, double fromDay, double toDay) => clocks.WashesBetween(Unit, Ms(fromDay), Ms(toDay));

    private static long Ms(double day) => Begin.AddDays(day).ToUnixTimeMilliseconds();

    private static string At(double day) => Begin.AddDays(day).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static string Wash(string key, double day, string outcome = "completed", string more = "") =>
        Sending.Wash(key, At(day), outcome, more);

    private static string Meter(string key, double day, double? washes, double? hours) => string.Create(
        CultureInfo.InvariantCulture,
        $$"""{"type":"meter","key":"{{key}}","unit":"OVEN-1","at":"{{At(day)}}","washes_total":{{Json(washes)}},"operating_hours_total":{{Json(hours)}}}""");

    private static string Json(double? number) => number?.ToString(CultureInfo.InvariantCulture) ?? "null";

    private async Task SendAsync(params string[] records) => Sending.AssertCounts(
        await Sending.SendAsync(_host.Admin, string.Join('\n', records), "application/x-ndjson"), accepted: records.Length);

    private async Task<LifeClocks> LoadAsync()
    {
        await using DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        await using DbTransaction transaction = Database.BeginReading(connection);
        Assert.Equal(Unit, await connection.ExecuteScalarAsync<int>("SELECT id FROM unit", transaction: transaction));
        return await LifeClocks.LoadAsync(connection, transaction, [Unit, Unit + 1], CancellationToken.None);
    }
}
