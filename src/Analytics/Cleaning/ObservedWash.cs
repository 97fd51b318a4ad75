using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A wash as the charts of early signs see it.</summary>
/// <param name="StartedAt">When it started.</param>
/// <param name="IsBad">Whether the machine did badly; null when the wash says nothing about the machine.</param>
/// <param name="Programme">Its programme; durations are compared within one.</param>
/// <param name="Minutes">How long it took, minutes; null when that is not to be compared.</param>
public readonly record struct ObservedWash(Instant StartedAt, bool? IsBad, string Programme, double? Minutes)
{
    // A duration beyond this is a clock that was set or an end that was missed.
    private const double LongestMinutes = 1440;

    /// <summary>
    /// Bad: a fault stopped it, or it completed and left detergent. Good: it completed and nobody found detergent. It says nothing about the
    /// machine when a person stopped it (impatience, a door opened for service), when the unit refused (it is locked out already, and the
    /// sign would come too late), when its outcome is unknown, or when people cleaned by hand. Durations are those of completed washes.
    /// </summary>
    /// <param name="wash">The wash.</param>
    /// <param name="programme">Its programme, or what stands for it.</param>
    public static ObservedWash Of(Wash wash, string programme)
    {
        bool completed = wash is { Outcome: WashOutcome.Completed, AttestedBy: null };
        double? minutes = completed && wash.EndedAt is { } end ? (end - wash.StartedAt).TotalMinutes : null;
        return new ObservedWash(
            wash.StartedAt,
            completed ? wash.DetergentLeft == true : wash is { Outcome: WashOutcome.StoppedByFault, AttestedBy: null } ? true : null,
            programme,
            minutes is > 0 and <= LongestMinutes ? minutes : null);
    }
}
