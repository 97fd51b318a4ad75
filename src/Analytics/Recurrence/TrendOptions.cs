using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>How a verdict on trend is reached.</summary>
public sealed record TrendOptions
{
    /// <summary>A trend is shown when its two-sided chance lies below 1 less this; above 0 and below 1.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>
    /// Events below which no verdict is given, 2 or more. From 4 on the normal approximation of Laplace's test keeps its level at 5 %.
    /// </summary>
    public int FewestEvents { get; init; } = 4;

    /// <summary>
    /// How far ahead to ask what would change the verdict, in the unit of the clock, above 0 (counts: number of periods).
    /// </summary>
    public double Ahead { get; init; } = 30;

    /// <summary>
    /// Which units will be watched on, one entry a history; null: those whose watch ended last, which on a calendar are those watched
    /// today.
    /// </summary>
    public IReadOnlyList<bool>? WatchedOn { get; init; }

    /// <summary>Longest stretch without events to look ahead for 'getting better'; null: twice the longest watched stretch.</summary>
    public double? LongestQuiet { get; init; }

    internal void Check(int histories)
    {
        ConfidenceLevel.Check(Level);
        ArgumentOutOfRangeException.ThrowIfLessThan(FewestEvents, 2);
        if (!(Ahead > 0 && double.IsFinite(Ahead)) || LongestQuiet is { } quiet && !(quiet > 0 && double.IsFinite(quiet)))
        {
            throw new ArgumentException("The stretch ahead and the longest quiet looked for are above 0 and finite.");
        }

        if (WatchedOn is not null && WatchedOn.Count != histories)
        {
            throw new ArgumentException("'Watched on' has one entry for each history.");
        }
    }
}
