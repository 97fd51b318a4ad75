using System.Runtime.InteropServices;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Cleaning;

/// <summary>Due washes of one unit in one period and how many of them were kept.</summary>
/// <param name="Unit">Number that tells units apart.</param>
/// <param name="Period">Number of the period, counted evenly.</param>
/// <param name="Due">Washes that were due, 0 or more.</param>
/// <param name="Kept">Those that were kept, 0 to <paramref name="Due"/>.</param>
public readonly record struct UnitPeriodShare(int Unit, int Period, int Due, int Kept);

/// <summary>
/// Whether the share of kept washes rises or falls steadily over periods. A straight line through all due washes (1 kept, 0 not) by least
/// squares; its slope's variance is robust to washes of one unit being alike (units as clusters, with the factors m / (m - 1) and
/// (N - 1) / (N - 2)), its bounds take Student's t on m - 1 degrees of freedom. Liang and Zeger (1986) Biometrika 73, 13; Cameron and
/// Miller (2015) J. Human Resources 50, 317. The same units are met in every period, so neighbouring bars with bounds that overlap may
/// still show a change, and this tells.
/// </summary>
/// <param name="Units">Units with at least one due wash.</param>
/// <param name="Due">Due washes of them.</param>
/// <param name="Start">Height of the line at the first period.</param>
/// <param name="End">Height of the line at the last period.</param>
/// <param name="Change">End less start, with bounds; null with fewer than <see cref="FewestUnits"/> units or fewer than two periods.</param>
/// <param name="Doubts">What limits the answer, in plain words; empty when nothing does.</param>
public sealed record OnTimeTrend(int Units, int Due, double? Start, double? End, Estimate? Change, IReadOnlyList<string> Doubts)
{
    /// <summary>With fewer units the variance between them is known too badly to call anything a trend; common practice.</summary>
    public const int FewestUnits = 6;

    /// <summary>Whether the change is more than chance explains at the level asked for.</summary>
    public bool IsClear => Change is { Lower: { } lower, Upper: { } upper } && (lower > 0 || upper < 0);

    /// <summary>Fits the line.</summary>
    /// <param name="shares">One entry a unit and period, in any order; those without a due wash are left out.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A unit kept more washes than were due.</exception>
    public static OnTimeTrend Of(IEnumerable<UnitPeriodShare> shares, double level = 0.95)
    {
        UnitPeriodShare[] owed = [.. shares.Where(one => one.Due > 0)];
        foreach (UnitPeriodShare one in owed)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(one.Kept, nameof(shares));
            ArgumentOutOfRangeException.ThrowIfLessThan(one.Due, one.Kept, nameof(shares));
        }

        int units = owed.Select(one => one.Unit).Distinct().Count();
        int due = owed.Sum(one => one.Due);
        return owed.Select(one => one.Period).Distinct().Count() < 2
            ? new OnTimeTrend(units, due, null, null, null, ["Washes were due in fewer than two periods."])
            : Line(owed, units, due, level);
    }

    private static OnTimeTrend Line(UnitPeriodShare[] owed, int units, double due, double level)
    {
        double middle = owed.Sum(one => (double)one.Due * one.Period) / due;
        double share = owed.Sum(one => one.Kept) / due;
        double spread = owed.Sum(one => one.Due * Math.Pow(one.Period - middle, 2));
        double slope = owed.Sum(one => one.Kept * (one.Period - middle)) / spread;
        double At(int period) => share + (slope * (period - middle));
        (int first, int last) = (owed.Min(one => one.Period), owed.Max(one => one.Period));
        (double start, double end) = (At(first), At(last));
        if (units < FewestUnits)
        {
            return new OnTimeTrend(
                units, (int)due, start, end, null, [$"Fewer than {FewestUnits} units ({units}): a trend cannot be told from chance."]);
        }

        var scores = new Dictionary<int, double>(units);
        foreach (UnitPeriodShare one in owed)
        {
            CollectionsMarshal.GetValueRefOrAddDefault(scores, one.Unit, out _) += (one.Period - middle) * (one.Kept - (one.Due * At(one.Period)));
        }

        double variance = units / (units - 1.0) * ((due - 1) / (due - 2)) * scores.Values.Sum(score => score * score) / Math.Pow(spread, 2);
        double reach = StudentQuantiles.Of(units - 1, (1 + level) / 2) * Math.Sqrt(variance) * (last - first);
        double change = end - start;
        return new OnTimeTrend(
            units, (int)due, start, end,
            new Estimate(change, change - reach, change + reach, level, "least-squares line, units as clusters, Student's t"), []);
    }
}
