using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Time charged to one cause.</summary>
/// <param name="Cause">The cause.</param>
/// <param name="Ticks">The time, ticks of 100 ns; above 0.</param>
public readonly record struct CauseTime(Cause Cause, long Ticks);

/// <summary>
/// The figures of one unit and rule over a window: the same as <see cref="CauseTimeline.Compute"/> gives from all records. Immutable, and
/// small, as those of large fleets are kept in memory.
/// </summary>
public sealed class CleaningTally
{
    private readonly CauseTime[] _byCause;
    private readonly long _gapFrom;
    private readonly long _gapTo;
    private readonly bool _gapIsKnown;

    /// <param name="ticksByCause">Time by cause, by the number of the cause.</param>
    /// <param name="due">Washes that were due.</param>
    /// <param name="onTime">Those that were kept.</param>
    /// <param name="unknown">Those left out as unknown.</param>
    /// <param name="excused">Those left out as excused.</param>
    /// <param name="longestGap">The longest gap, Unix time in ticks, and whether its begin is known.</param>
    internal CleaningTally(long[] ticksByCause, int due, int onTime, int unknown, int excused, (long From, long To, bool StartIsKnown) longestGap)
    {
        _byCause = [.. ticksByCause.Select((ticks, cause) => new CauseTime((Cause)cause, ticks)).Where(time => time.Ticks > 0)];
        (Due, OnTime, Unknown, Excused) = (due, onTime, unknown, excused);
        (_gapFrom, _gapTo, _gapIsKnown) = longestGap;
    }

    /// <summary>Washes whose deadline lies in (from, to], without the unknown and the excused.</summary>
    public int Due { get; }

    /// <summary>Those of them that were kept.</summary>
    public int OnTime { get; }

    /// <summary>Washes left out because the unit was silent at the deadline.</summary>
    public int Unknown { get; }

    /// <summary>Washes left out because the unit was out of service when they fell due.</summary>
    public int Excused { get; }

    /// <summary>Longest stretch between washes that count, by elapsed time; the last one ends with the window. Its time in service is not
    /// told (zero).</summary>
    public WashGap LongestGap =>
        new(Instant.FromUnixTimeTicks(_gapFrom), Instant.FromUnixTimeTicks(_gapTo), Duration.Zero, _gapIsKnown);

    /// <summary>The causes that time was charged to, in the order of causes.</summary>
    public ReadOnlySpan<CauseTime> ByCause => _byCause;

    /// <summary>Time in order or overdue: the window less closed, silent, out of service and without a rule.</summary>
    public Duration Judged
    {
        get
        {
            long ticks = 0;
            foreach (CauseTime time in _byCause)
            {
                ticks += time.Cause.IsJudged() ? time.Ticks : 0;
            }

            return Duration.FromTicks(ticks);
        }
    }

    /// <summary>Time charged to one cause; zero when there was none.</summary>
    /// <param name="cause">Any cause.</param>
    public Duration Of(Cause cause)
    {
        foreach (CauseTime time in _byCause)
        {
            if (time.Cause == cause)
            {
                return Duration.FromTicks(time.Ticks);
            }
        }

        return Duration.Zero;
    }
}
