namespace Washwear.Api;

/// <summary>The machine's clock, set forward or back by as much as makes it begin at an instant.</summary>
/// <param name="start">What it shows when it is made.</param>
internal sealed class ShiftedClock(DateTimeOffset start) : TimeProvider
{
    private readonly TimeSpan _ahead = start - System.GetUtcNow();

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow() + _ahead;
}
