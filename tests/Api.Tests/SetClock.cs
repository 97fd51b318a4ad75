namespace Washwear.Api.Tests;

/// <summary>A clock that shows what a test says; time stands still between two settings.</summary>
public sealed class SetClock(DateTimeOffset now) : TimeProvider
{
    private long _ticks = now.UtcTicks;

    /// <summary>The instant that the clock shows.</summary>
    public DateTimeOffset Now
    {
        get => new(Interlocked.Read(ref _ticks), TimeSpan.Zero);
        set => Interlocked.Exchange(ref _ticks, value.UtcTicks);
    }

    public override DateTimeOffset GetUtcNow() => Now;

    public void Advance(TimeSpan by) => Now += by;
}
