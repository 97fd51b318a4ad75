namespace Washwear.Api.Memories;

/// <summary>
/// How far an answer from memory may lie behind the newest record. Small fleets never lag. In a large one, what was dear to make is given on while
/// it is made anew in the background, as long as it is no older than a multiple of what making it cost, and never older than a bound.
/// </summary>
/// <param name="FromUnits">Units of the fleet, or of the part of it that somebody sees, from which on anything may lag.</param>
/// <param name="Most">Never older than this; zero: nothing lags.</param>
public sealed record LagRule(int FromUnits, TimeSpan Most)
{
    /// <summary>What takes less is made while its reader waits.</summary>
    public static readonly TimeSpan Dear = TimeSpan.FromMilliseconds(250);

    /// <summary>Oldest age as a multiple of what it cost to make.</summary>
    public const int MostTimesCost = 300;

    // Made anew no sooner than after this multiple of its cost, so that what is asked for without end takes a fortieth of one worker's time.
    private const int RestTimesCost = 40;

    /// <summary>Whether a fleet is so large that anything may lag.</summary>
    /// <param name="units">Units in the fleet.</param>
    public bool IsLarge(int units) => Most > TimeSpan.Zero && units >= FromUnits;

    /// <summary>Whether something may be given although records have come since.</summary>
    /// <param name="units">Units in the fleet.</param>
    /// <param name="cost">How long making it took.</param>
    /// <param name="age">How long before the question it was as of.</param>
    public bool MayLag(int units, TimeSpan cost, TimeSpan age) => IsLarge(units) && cost >= Dear && age <= Oldest(cost);

    /// <summary>Whether something that lags is old enough to be made anew.</summary>
    /// <param name="cost">How long making it took.</param>
    /// <param name="age">How long before the question it was as of.</param>
    public bool IsDue(TimeSpan cost, TimeSpan age) => age >= RestTimesCost * cost || age + (2 * cost) >= Oldest(cost);

    /// <summary>Whether something that nobody asks for just now is to be made anew, so that the next reader need not wait.</summary>
    /// <param name="cost">How long making it took.</param>
    /// <param name="age">How long ago it was made.</param>
    /// <param name="keptFor">How long it holds while nothing changes.</param>
    /// <param name="isSame">Whether nothing has changed.</param>
    public bool IsToKeep(TimeSpan cost, TimeSpan age, TimeSpan keptFor, bool isSame) => 2 * age >= (isSame || Oldest(cost) > keptFor ? keptFor : Oldest(cost));

    private TimeSpan Oldest(TimeSpan cost) => TimeSpan.FromTicks(Math.Min(MostTimesCost * cost.Ticks, Most.Ticks));
}
