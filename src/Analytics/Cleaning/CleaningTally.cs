using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// The figures of one unit and rule over a window: the same as <see cref="CauseTimeline.Compute"/> gives from all records. Immutable.
/// </summary>
public sealed class CleaningTally
{
    private readonly long[] _ticksByCause;

    internal CleaningTally(long[] ticksByCause, int due, int onTime, int unknown, int excused, WashGap longestGap)
    {
        _ticksByCause = ticksByCause;
        (Due, OnTime, Unknown, Excused, LongestGap) = (due, onTime, unknown, excused, longestGap);
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
    public WashGap LongestGap { get; }

    /// <summary>Time in order or overdue: the window less closed, silent, out of service and without a rule.</summary>
    public Duration Judged
    {
        get
        {
            long ticks = 0;
            for (int cause = 0; cause < _ticksByCause.Length; cause++)
            {
                ticks += ((Cause)cause).IsJudged() ? _ticksByCause[cause] : 0;
            }

            return Duration.FromTicks(ticks);
        }
    }

    /// <summary>Time charged to one cause; zero when there was none.</summary>
    /// <param name="cause">Any cause.</param>
    public Duration Of(Cause cause) => Duration.FromTicks(_ticksByCause[(int)cause]);
}
