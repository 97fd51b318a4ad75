using Washwear.Analytics.Numerics;

namespace Washwear.Dashboard.PartLife;

/// <summary>Which clock explains the lives best, by likelihood on one density base.</summary>
/// <param name="Sentence">The finding.</param>
/// <param name="Best">The clock with the least criterion.</param>
/// <param name="Decided">Whether every other clock is worse by 2 or more.</param>
/// <param name="Rows">The clocks, best first.</param>
public sealed record ClockFigures(string Sentence, string Best, bool Decided, IReadOnlyList<ClockRow> Rows);

/// <summary>One clock.</summary>
/// <param name="Clock">days, washes or operating_hours.</param>
/// <param name="AicAboveBest">By how much Akaike's criterion exceeds the best clock's; null without a fit.</param>
/// <param name="B10">Age by which 10 % have failed on this clock; null without a fit.</param>
public sealed record ClockRow(string Clock, double? AicAboveBest, double? B10);

/// <summary>The lives of a position compared by groups.</summary>
/// <param name="By">part_number, batch, supplier, model, operator, region or water_hardness.</param>
/// <param name="Sentence">The finding.</param>
/// <param name="CommonShape">Shape that all groups share in the comparison; null where there is none.</param>
/// <param name="EqualShapePValue">Likelihood-ratio p-value of one shape for all; null where a group's own shape cannot be fitted.</param>
/// <param name="EqualScalePValue">Likelihood-ratio p-value of one scale for all; null where it cannot be computed.</param>
/// <param name="LogRankPValue">Log-rank p-value of one curve for all, without a model; null where it cannot be computed.</param>
/// <param name="Rows">The groups, most lives first.</param>
/// <param name="LeftOut">Groups left out because too many were found; those with most failures stay.</param>
/// <param name="Doubts">What to mind, in sentences.</param>
public sealed record GroupFigures(
    string By,
    string Sentence,
    double? CommonShape,
    double? EqualShapePValue,
    double? EqualScalePValue,
    double? LogRankPValue,
    IReadOnlyList<GroupRow> Rows,
    int LeftOut,
    IReadOnlyList<string> Doubts);

/// <summary>One group.</summary>
/// <param name="Group">Its name.</param>
/// <param name="Lives">Lives in it.</param>
/// <param name="Failures">Failures among them.</param>
/// <param name="Expected">Failures expected if all groups lived alike (log-rank); null where the test cannot be made.</param>
/// <param name="Scale">Its scale at the common shape; null where nothing failed.</param>
/// <param name="ScaleRatio">Its scale over the reference group's; null for the reference, or where one has no failure.</param>
/// <param name="AdjustedPValue">p-value of equal scales, adjusted over all comparisons made (Benjamini–Hochberg); null for the reference.</param>
/// <param name="Verdict">What that says, in words.</param>
public sealed record GroupRow(
    string Group, int Lives, int Failures, double? Expected, double? Scale, Estimate? ScaleRatio, double? AdjustedPValue, string Verdict);

/// <summary>A group of parts that fails early, with its evidence.</summary>
/// <param name="By">What the group is one of, such as batch.</param>
/// <param name="Group">Its name.</param>
/// <param name="Lives">Lives in it.</param>
/// <param name="Failures">Failures among them.</param>
/// <param name="ScaleRatio">Its scale over that of all other parts at the position, profile-likelihood bounds.</param>
/// <param name="AdjustedPValue">p-value of equal scales, adjusted over all groups looked at (Benjamini–Hochberg).</param>
/// <param name="GroupsLookedAt">How many groups were looked at.</param>
/// <param name="StillFitted">Parts of it that are still fitted, whether their age is known or not.</param>
/// <param name="StillFittedUnits">Asset tags of the units that have them, in order.</param>
/// <param name="Sentence">The finding in one sentence.</param>
public sealed record EarlyGroup(
    string By,
    string Group,
    int Lives,
    int Failures,
    Estimate ScaleRatio,
    double AdjustedPValue,
    int GroupsLookedAt,
    int StillFitted,
    IReadOnlyList<string> StillFittedUnits,
    string Sentence);
