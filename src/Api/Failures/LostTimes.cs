using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>What a failure cost in cleaning.</summary>
/// <param name="LockedOutHours">Hours for which the unit was locked out of washing.</param>
/// <param name="UnwashedDays">Days until the next wash that cleans, the first 24 hours left out.</param>
internal readonly record struct LostTime(double LockedOutHours, double UnwashedDays)
{
    /// <summary>Both together.</summary>
    /// <param name="other">The other.</param>
    public LostTime Plus(LostTime other) => new(LockedOutHours + other.LockedOutHours, UnwashedDays + other.UnwashedDays);

    /// <summary>One of several equal parts.</summary>
    /// <param name="parts">How many.</param>
    public LostTime By(int parts) => new(LockedOutHours / parts, UnwashedDays / parts);
}

/// <summary>
/// Tells what failures cost in cleaning. A fault costs from when it was raised until it was cleared; a part costs what the lockout cost during
/// which it was changed, up to a day after its end. Parts changed in one lockout share its cost.
/// </summary>
/// <param name="queries">Reads the washes.</param>
internal sealed class LostTimes(FailureQueries queries)
{
    private const double MsPerHour = 3_600_000;
    private const double MsPerDay = 24 * MsPerHour;

    /// <summary>What each of some failures cost; those that cost nothing are absent.</summary>
    /// <param name="view">Where they are from.</param>
    /// <param name="failures">The failures.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<Failure, LostTime>> OfAsync(
        FailureView view, IReadOnlyList<Failure> failures, CancellationToken cancellationToken)
    {
        (Failure Failure, Failure Lockout)[] pairs =
            [.. failures.Select(failure => (Failure: failure, Lockout: LockoutOf(view, failure))).Where(pair => pair.Lockout is not null)!];
        Failure[] lockouts = [.. pairs.Select(pair => pair.Lockout).Distinct<Failure>(ReferenceEqualityComparer.Instance)];
        IReadOnlyList<long?> washes = await queries.NextWashesAsync(
            [.. lockouts.Select(lockout => (lockout.Unit.Terms.Unit.Id, lockout.AtMs))], cancellationToken);
        var costs = new Dictionary<Failure, LostTime>(ReferenceEqualityComparer.Instance);
        for (int i = 0; i < lockouts.Length; i++)
        {
            costs[lockouts[i]] = Cost(view, lockouts[i], washes[i]);
        }

        Dictionary<Failure, int> claims = pairs.GroupBy(pair => pair.Lockout, ReferenceEqualityComparer.Instance)
            .ToDictionary(group => (Failure)group.Key!, group => group.Count(), (IEqualityComparer<Failure>)ReferenceEqualityComparer.Instance);
        var lost = new Dictionary<Failure, LostTime>(ReferenceEqualityComparer.Instance);
        foreach ((Failure failure, Failure lockout) in pairs)
        {
            lost[failure] = costs[lockout].By(claims[lockout]);
        }

        return lost;
    }

    /// <summary>The trouble during which something was done at a unit, or that had ended no more than a day before; null: none.</summary>
    /// <param name="episodes">The unit's episodes that come into question, in the order of time.</param>
    /// <param name="ms">When it was done, ms UTC.</param>
    /// <param name="lockoutOnly">Whether only trouble that locks out washing counts.</param>
    public static Failure? During(Failure[] episodes, long ms, bool lockoutOnly = false) => Array.FindLast(
        episodes, episode => episode.AtMs <= ms && (episode.UntilMs ?? long.MaxValue) >= ms - MsPerDay && (episode.LocksOut || !lockoutOnly));

    private static Failure? LockoutOf(FailureView view, Failure failure) => failure.Kind == FailureKind.Faults
        ? (failure.LocksOut ? failure : null)
        : During(view.Episodes[failure.Unit.Terms.Unit.Id], failure.AtMs, lockoutOnly: true);

    private static LostTime Cost(FailureView view, Failure lockout, long? nextWash)
    {
        long now = Math.Min(view.AsOf.ToUnixTimeMilliseconds(), lockout.Unit.ToMs);
        double hours = Math.Max(0, (lockout.UntilMs ?? now) - lockout.AtMs) / MsPerHour;
        double days = Math.Max(0, (((nextWash ?? now) - lockout.AtMs) / MsPerDay) - 1);
        return new LostTime(hours, days);
    }
}
