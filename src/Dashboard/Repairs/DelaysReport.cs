using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>Where the time of lockouts went over a window, from a fault raised to cleared.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="By">What a row stands for: operator, site, model, region or code.</param>
/// <param name="Total">All together.</param>
/// <param name="Rows">The groups, those with most hours first.</param>
public sealed record DelaysReport(Basis Basis, string Sentence, string By, DelayRow Total, IReadOnlyList<DelayRow> Rows);

/// <summary>The lockouts of a group.</summary>
/// <param name="Code">Code of the group; 'all' for the total.</param>
/// <param name="Name">Its name.</param>
/// <param name="Lockouts">Stretches in which a unit was locked out, each cut to the window.</param>
/// <param name="Hours">Their hours together: the sum of the three sorts, and of the five kinds.</param>
/// <param name="HoursBySort">Hours by sort of delay.</param>
/// <param name="HoursByKind">Hours by what was waited for.</param>
public sealed record DelayRow(
    string Code,
    string Name,
    int Lockouts,
    double Hours,
    IReadOnlyDictionary<DelaySort, double> HoursBySort,
    IReadOnlyDictionary<DelayKind, double> HoursByKind)
{
    /// <summary>Hours of one sort.</summary>
    /// <param name="sort">The sort.</param>
    public double Of(DelaySort sort) => HoursBySort.GetValueOrDefault(sort);

    /// <summary>Hours of one kind.</summary>
    /// <param name="kind">The kind.</param>
    public double Of(DelayKind kind) => HoursByKind.GetValueOrDefault(kind);

    /// <summary>Hours a lockout of one sort, 0 where there was no lockout.</summary>
    /// <param name="sort">The sort.</param>
    public double MeanHours(DelaySort sort) => Lockouts == 0 ? 0 : Of(sort) / Lockouts;
}
