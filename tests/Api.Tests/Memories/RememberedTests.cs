using Microsoft.Extensions.Logging.Abstractions;
using Washwear.Api.Memories;

namespace Washwear.Api.Tests.Memories;

/// <summary>What is dear to make: when it is given from memory, and when somebody waits for it.</summary>
public sealed class RememberedTests : IDisposable
{
    private const int Large = 10_000;
    private const int Small = 999;
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    private readonly WorkClock _clock = new();
    private readonly Renewals _renewals;
    private readonly TimeSpan _dear = LagRule.Dear + TimeSpan.FromMilliseconds(50);
    private readonly Lock _gate = new();
    private Place<long> _place = new(1, Large, 1);
    private TimeSpan _cost = TimeSpan.Zero;
    private Task _goOn = Task.CompletedTask;
    private Exception? _failure;
    private int _made;
    private int _asked;

    public RememberedTests() => _renewals = new(Settings.Load(new Dictionary<string, string>()), _clock, NullLogger<Renewals>.Instance);

    public void Dispose() => _renewals.Dispose();

    [Fact]
    public async Task As_long_as_no_record_comes_it_is_made_once()
    {
        Remembered<long, string> memory = Memory();
        Assert.Equal("made 1 at 1", await memory.CurrentAsync(Noon, default));
        Assert.Equal("made 1 at 1", await memory.CurrentAsync(Noon.AddMinutes(59), default));
        Assert.Equal("made 2 at 1", await memory.CurrentAsync(Noon.AddMinutes(61), default));
    }

    [Fact]
    public async Task A_small_fleet_never_lags_however_dear_it_is()
    {
        (_place, _cost) = (new(1, Small, 1), _dear);
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(1, Small, 2);
        Assert.Equal("made 2 at 2", await memory.CurrentAsync(Noon, default));
    }

    [Fact]
    public async Task What_is_cheap_to_make_never_lags()
    {
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(1, Large, 2);
        Assert.Equal("made 2 at 2", await memory.CurrentAsync(Noon, default));
    }

    [Fact]
    public async Task What_is_dear_is_given_on_while_it_is_made_anew()
    {
        _cost = _dear;
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(1, Large, 2);
        Assert.Equal("made 1 at 1", await memory.CurrentAsync(Noon.AddSeconds(20), default));
        await Until.TrueAsync(async () => await memory.CurrentAsync(Noon.AddSeconds(20), default) == "made 2 at 2", "it is made anew");
        Assert.Equal(2, _made);
    }

    [Fact]
    public async Task What_is_older_than_three_hundred_times_its_cost_is_not_given()
    {
        _cost = _dear;
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(1, Large, 2);
        Assert.Equal("made 2 at 2", await memory.CurrentAsync(Noon.AddMinutes(2), default));
    }

    [Fact]
    public async Task A_change_of_the_registry_is_seen_at_once()
    {
        _cost = _dear;
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(2, Large, 1);
        Assert.Equal("made 2 at 1", await memory.CurrentAsync(Noon, default));
    }

    [Fact]
    public async Task However_many_ask_and_however_fast_records_come_nobody_waits_for_more_than_two()
    {
        const int readers = 40;
        var goOn = new TaskCompletionSource();
        (_place, _goOn) = (new(1, Small, 1), goOn.Task);
        Remembered<long, string> memory = Memory();
        Task<string>[] asked =
        [
            .. Enumerable.Range(1, readers).Select(i => Task.Run(() =>
            {
                lock (_gate)
                {
                    _place = _place with { Records = _place.Records + 1 };
                }

                return memory.CurrentAsync(Noon, default);
            })),
        ];
        await Until.TrueAsync(() => Task.FromResult(Volatile.Read(ref _asked) > readers), "all have asked while the first is made for one of them");
        goOn.SetResult();
        await Task.WhenAll(asked);
        Assert.InRange(_made, 1, 3);
    }

    [Fact]
    public async Task A_reader_who_leaves_takes_nothing_from_those_who_ask_next()
    {
        var goOn = new TaskCompletionSource();
        _goOn = goOn.Task;
        Remembered<long, string> memory = Memory();
        using var gone = new CancellationTokenSource();
        Task<string> left = memory.CurrentAsync(Noon, gone.Token);
        await Until.TrueAsync(() => Task.FromResult(Volatile.Read(ref _made) == 1), "it is being made");
        await gone.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => left);
        goOn.SetResult();
        await Until.TrueAsync(async () => await memory.CurrentAsync(Noon, default) == "made 1 at 1", "it is made to its end");
    }

    [Fact]
    public async Task A_failure_is_told_to_who_asked_and_not_kept()
    {
        _failure = new InvalidOperationException("no room");
        Remembered<long, string> memory = Memory();
        await Assert.ThrowsAsync<InvalidOperationException>(() => memory.CurrentAsync(Noon, default));
        _failure = null;
        Assert.Equal("made 2 at 1", await memory.CurrentAsync(Noon, default));
    }

    [Fact]
    public async Task What_was_asked_for_today_is_made_anew_before_it_is_too_old()
    {
        _cost = _dear;
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(1, Large, 2);
        await memory.KeepAsync(Noon.AddSeconds(10), default);
        Assert.Equal(1, _made);
        await memory.KeepAsync(Noon.AddSeconds(60), default);
        Assert.Equal(2, _made);
        Assert.Equal("made 2 at 2", await memory.CurrentAsync(Noon.AddSeconds(61), default));
        Assert.Equal(2, _made);
    }

    [Fact]
    public async Task While_nothing_changes_it_is_made_anew_only_before_its_own_time_is_over()
    {
        _cost = _dear;
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        await memory.KeepAsync(Noon.AddMinutes(29), default);
        Assert.Equal(1, _made);
        await memory.KeepAsync(Noon.AddMinutes(31), default);
        Assert.Equal(2, _made);
    }

    [Theory]
    [InlineData(Small, 300, 2)]
    [InlineData(Large, 0, 2)]
    [InlineData(Large, 300, 24 * 60)]
    public async Task Nothing_is_kept_of_small_fleets_what_is_cheap_or_what_nobody_asks_for(int units, int costMs, int minutesLater)
    {
        (_place, _cost) = (new(1, units, 1), TimeSpan.FromMilliseconds(costMs));
        Remembered<long, string> memory = Memory();
        await memory.CurrentAsync(Noon, default);
        _place = new(1, units, 2);
        await memory.KeepAsync(Noon.AddMinutes(minutesLater).AddSeconds(1), default);
        Assert.Equal(1, _made);
    }

    private Remembered<long, string> Memory() => new(_renewals, new(
        "test",
        TimeSpan.FromHours(1),
        _ =>
        {
            lock (_gate)
            {
                _asked++;
                return Task.FromResult(_place);
            }
        },
        async (_, token) =>
        {
            int number = Interlocked.Increment(ref _made);
            long records = _place.Records;
            _clock.Work(_cost);
            await _goOn.WaitAsync(token);
            return _failure is null ? $"made {number} at {records}" : throw _failure;
        }));

    // Only work takes time, so that what it cost is the same on a busy machine; no two looks show the same.
    private sealed class WorkClock : TimeProvider
    {
        private long _ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => Interlocked.Increment(ref _ticks);

        public void Work(TimeSpan cost) => Interlocked.Add(ref _ticks, cost.Ticks);
    }
}
