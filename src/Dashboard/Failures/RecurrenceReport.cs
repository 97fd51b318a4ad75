using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>How many failures a unit has had on average by an age or a day: the mean cumulative function.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Axis">age: days since commissioning; calendar: days since the window began.</param>
/// <param name="Groups">One curve a group; one group named 'all' when nothing is compared.</param>
/// <param name="Comparison">Whether the groups differ; null when nothing is compared or it could not be tested.</param>
public sealed record RecurrenceReport(
    Basis Basis, string Sentence, string Axis, IReadOnlyList<RecurrenceGroup> Groups, RecurrenceComparison? Comparison);

/// <summary>The curve of one group.</summary>
/// <param name="Group">Code of the group, or 'all'.</param>
/// <param name="Name">Its name.</param>
/// <param name="Units">Units in it.</param>
/// <param name="Failures">Failures in it.</param>
/// <param name="Steps">Steps of the curve, by day; thinned where there are more than 400.</param>
public sealed record RecurrenceGroup(string Group, string Name, int Units, int Failures, IReadOnlyList<RecurrenceStep> Steps);

/// <summary>One step of a mean cumulative function.</summary>
/// <param name="Day">Age or day, days.</param>
/// <param name="AtRisk">Units watched at that age.</param>
/// <param name="Failures">Failures at that age (since the step before, where the curve is thinned).</param>
/// <param name="Mean">Mean number of failures a unit up to it.</param>
/// <param name="Lower">Lower robust bound; null where it cannot be told.</param>
/// <param name="Upper">Upper robust bound; null where it cannot be told.</param>
public sealed record RecurrenceStep(double Day, int AtRisk, int Failures, double Mean, double? Lower, double? Upper);

/// <summary>A test of equal recurrence in all groups.</summary>
/// <param name="Method">Plain name of the test.</param>
/// <param name="ChiSquare">Statistic.</param>
/// <param name="DegreesOfFreedom">Groups less 1.</param>
/// <param name="PValue">p-value, 0 to 1.</param>
/// <param name="Sentence">What it says in words.</param>
public sealed record RecurrenceComparison(string Method, double ChiSquare, int DegreesOfFreedom, double PValue, string Sentence);
