namespace Washwear.Dashboard.Shell;

/// <summary>What an answer rests on; every report carries one.</summary>
/// <param name="AsOf">The instant for which the answer holds.</param>
/// <param name="From">Start of the window looked at, inclusive; null where the answer has no window.</param>
/// <param name="To">End of the window looked at, exclusive; null where the answer has no window.</param>
/// <param name="Method">Statistical or counting method, by its plain name.</param>
/// <param name="Clock">What age or interval is counted in: days, washes or operating_hours; null where it does not apply.</param>
/// <param name="N">How many things (lives, units, washes due: the method says which) the answer is computed from.</param>
/// <param name="Failures">How many of them failed; null where failures are not the question.</param>
/// <param name="Excluded">What was left out, counted by reason.</param>
/// <param name="Doubts">Plain sentences that a reader should know before acting on the figures.</param>
public sealed record Basis(
    DateTimeOffset AsOf,
    DateTimeOffset? From,
    DateTimeOffset? To,
    string Method,
    string? Clock,
    int N,
    int? Failures,
    IReadOnlyDictionary<string, int> Excluded,
    IReadOnlyList<string> Doubts);
