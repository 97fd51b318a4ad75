using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Projections;

/// <summary>What one transaction changes of one unit's events.</summary>
internal sealed class SignChanges
{
    /// <summary>Events that were added.</summary>
    public List<SignEvent> Arrived { get; } = [];

    /// <summary>Instants at or after which something was taken away.</summary>
    public List<Instant> Voided { get; } = [];

    /// <summary>Whether everything may have changed.</summary>
    public bool IsAll { get; set; }

    /// <summary>First instant at which anything changes.</summary>
    public Instant Earliest => IsAll ? Instant.MinValue : Arrived.Select(one => one.At).Concat(Voided).Min();

    /// <summary>Whether all that changes lies after what a state has folded in, and that state is one.</summary>
    /// <param name="state">The state.</param>
    public bool AreInOrder(UnitSigns state) => !IsAll && Voided.Count == 0 && Earliest > state.FoldedTo;

    /// <summary>The events that were added, in their order.</summary>
    public List<SignEvent> InOrder()
    {
        Arrived.Sort(SignEvents.Order);
        return Arrived;
    }

    /// <summary>Last instant of what came late, which the next late record will hardly lie before; null: nothing did.</summary>
    /// <param name="foldedTo">Instant up to which events had been folded in.</param>
    public Instant? LatestUpTo(Instant? foldedTo) =>
        Arrived.Select(one => one.At).Concat(Voided).Where(at => at <= foldedTo).Select(at => (Instant?)at).Max();
}

/// <summary>A unit's state now, and one some time before, from which to go on when a record comes late.</summary>
/// <param name="Now">After all events.</param>
/// <param name="Earlier">After all events up to its <see cref="UnitSigns.FoldedTo"/>, as text.</param>
/// <param name="Between">Events since the earlier state.</param>
internal sealed record SignStates(UnitSigns Now, string Earlier, int Between)
{
    // What comes late is mostly late by days, which are some dozen washes.
    private const int MostBetween = 100;

    /// <summary>Of a unit without events.</summary>
    public static SignStates Blank { get; } = new(UnitSigns.Blank, SignState.Write(UnitSigns.Blank), 0);

    /// <summary>After further events.</summary>
    /// <param name="state">The state now, as text.</param>
    /// <param name="further">The events, in order, all after it.</param>
    public SignStates Going(string state, List<SignEvent> further)
    {
        UnitSigns now = Fold(Now, further);
        return Between >= MostBetween ? new SignStates(now, state, further.Count) : new SignStates(now, Earlier, Between + further.Count);
    }

    /// <summary>From a state on.</summary>
    /// <param name="begin">The state.</param>
    /// <param name="events">All events after it, in order.</param>
    /// <param name="late">Last instant of what came late; null: some time before the end is taken.</param>
    public static SignStates From(UnitSigns begin, List<SignEvent> events, Instant? late)
    {
        int place = late is { } last ? events.FindLastIndex(one => one.At <= last) + 1 : Math.Max(0, events.Count - MostBetween);

        // Never between two events of one instant: what is after the earlier state is asked for by its instant.
        while (place > 0 && place < events.Count && events[place - 1].At == events[place].At)
        {
            place--;
        }

        UnitSigns earlier = Fold(begin, events.Take(place));
        return new SignStates(Fold(earlier, events.Skip(place)), SignState.Write(earlier), events.Count - place);
    }

    private static UnitSigns Fold(UnitSigns signs, IEnumerable<SignEvent> events) =>
        events.Aggregate(signs, (state, happened) => happened.FoldInto(state));
}
