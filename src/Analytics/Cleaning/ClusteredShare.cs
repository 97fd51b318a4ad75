using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Cleaning;

/// <summary>Due washes of one unit and how many of them were kept.</summary>
/// <param name="Due">Washes that were due, 0 or more.</param>
/// <param name="Kept">Those that were kept, 0 to <paramref name="Due"/>.</param>
public readonly record struct UnitShare(int Due, int Kept);

/// <summary>
/// Share of due washes kept over several units, with bounds that allow for units differing: washes of one unit are alike, so that 322
/// washes of 12 units may carry the information of 41. p = sum of kept / sum of due; variance of this ratio v = m/(m-1) sum (kept - p
/// due)^2 / N^2 over m units and N washes; design effect v / (p(1-p)/N), at least 1; Wilson's score bounds with N replaced by N / design
/// effect and Student's t on m - 1 degrees of freedom in place of the normal quantile. Kish (1965) Survey Sampling; Korn and Graubard
/// (1998) Survey Methodology 24, 193; Dean and Pagano (2015) J. Survey Statistics and Methodology 3, 484.
/// </summary>
/// <param name="Units">Units with at least one due wash.</param>
/// <param name="Due">Due washes of them.</param>
/// <param name="Kept">Those that were kept.</param>
/// <param name="Share">Share kept with bounds; null when nothing was due.</param>
/// <param name="StandardError">Standard error of the share; null with fewer than two units.</param>
/// <param name="DesignEffect">Variance by that of as many independent washes, at least 1; null with fewer than two units or a share of 0
/// or 1.</param>
/// <param name="EffectiveWashes">Number of independent washes that would tell as much.</param>
/// <param name="Doubts">What limits the bounds, in plain words; empty when nothing does.</param>
public sealed record ClusteredShare(
    int Units,
    int Due,
    int Kept,
    Estimate? Share,
    double? StandardError,
    double? DesignEffect,
    double EffectiveWashes,
    IReadOnlyList<string> Doubts)
{
    /// <summary>Computes the share of several units.</summary>
    /// <param name="units">One entry a unit; units without a due wash are left out.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A unit kept more washes than were due, or the level lies outside its
    /// range.</exception>
    public static ClusteredShare Of(IEnumerable<UnitShare> units, double level = 0.95)
    {
        UnitShare[] all = [.. units];
        foreach (UnitShare unit in all)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(unit.Kept, nameof(units));
            ArgumentOutOfRangeException.ThrowIfLessThan(unit.Due, unit.Kept, nameof(units));
        }

        UnitShare[] owed = [.. all.Where(u => u.Due > 0)];
        (int due, int kept) = (owed.Sum(u => u.Due), owed.Sum(u => u.Kept));
        return owed.Length switch
        {
            0 => new ClusteredShare(0, 0, 0, null, null, null, 0, ["No wash was due."]),
            1 => OneUnit(due, kept, level),
            _ => Several(owed, due, kept, level),
        };
    }

    private static ClusteredShare OneUnit(int due, int kept, double level) => new(
        1, due, kept, ProportionBounds.Wilson(kept, due, level), null, null, due,
        ["One unit: the bounds take its washes as independent and say nothing about other units."]);

    private static ClusteredShare Several(UnitShare[] units, int due, int kept, double level)
    {
        (int m, double p) = (units.Length, (double)kept / due);
        double variance = m / (m - 1.0) * units.Sum(u => Math.Pow(u.Kept - (p * u.Due), 2)) / Math.Pow(due, 2);
        bool allAlike = kept == 0 || kept == due;
        double? effect = allAlike ? null : Math.Max(1, variance / (p * (1 - p) / due));

        // When every wash was kept, or none, nothing shows how units differ: one observation a unit is all that can be claimed.
        double effective = effect is { } e ? due / e : m;
        double t = StudentQuantiles.Of(m - 1, (1 + level) / 2);
        (double lower, double upper) = ProportionBounds.Score(p, effective, t);
        Estimate share = new(p, lower, upper, level, "Wilson score with design effect of units, Student's t");
        string[] doubts = allAlike ? [$"All units are alike, so each counts as one observation ({m})."] : [];
        return new ClusteredShare(m, due, kept, share, Math.Sqrt(variance), effect, effective, doubts);
    }
}
