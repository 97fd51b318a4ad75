using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>How often units have failed by an age or a day, in words.</summary>
public static class RecurrenceSentences
{
    private const double Level = 0.05;
    private const int Few = 3;
    private const int UnitsOfTheExample = 10;

    /// <summary>What the answer is worked out by, for its basis.</summary>
    public static string Method => Texts.MethodName;

    /// <summary>What groups are compared by.</summary>
    public static string Test => Texts.TestName;

    /// <summary>A region that nobody named.</summary>
    public static string NotNamed => Texts.NotNamed;

    /// <summary>Said where a comparison has one group only.</summary>
    public static string OneGroup => Texts.OneGroup;

    private static FailureRecurrenceTexts Texts => FailureRecurrenceTexts.Now;

    /// <summary>Said where more groups are compared than drawn.</summary>
    /// <param name="drawn">How many are drawn.</param>
    /// <returns>One sentence.</returns>
    public static string OnlyLargest(int drawn) => Texts.OnlyLargest.For(drawn);

    /// <summary>Said where a group is small.</summary>
    /// <param name="fewest">Units that a group should have.</param>
    /// <returns>One sentence.</returns>
    public static string FewUnits(int fewest) => Texts.FewUnits.For(fewest);

    /// <summary>The finding.</summary>
    /// <param name="groups">The curves, the one with most units first.</param>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="comparison">Whether they differ; null: not compared.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(IReadOnlyList<RecurrenceGroup> groups, FailureChoice choice, RecurrenceComparison? comparison)
    {
        ArgumentNullException.ThrowIfNull(groups);
        ArgumentNullException.ThrowIfNull(choice);
        if (groups.Sum(group => group.Failures) == 0)
        {
            return Texts.NoFailure;
        }

        bool byAge = choice.Axis == RecurrenceAxis.Age;
        RecurrenceGroup first = groups[0];
        if (comparison is not null || groups.Count > 1)
        {
            return (comparison?.Sentence ?? Texts.NotTested) + " " + string.Join("; ", groups.Where(group => group.Steps.Count > 0).Take(3)
                .Select(group => Reached(byAge ? Texts.GroupByAge : Texts.GroupByDay, group))) + ".";
        }

        string reached = Reached(byAge ? Texts.ByAge : Texts.ByDay, first);
        return first.Units < Few ? reached + " " + Texts.Few.For(first.Units) : reached;
    }

    /// <summary>Whether groups differ.</summary>
    /// <param name="pValue">p-value of no difference.</param>
    /// <param name="by">What they are told apart by: operator, site, model or region.</param>
    /// <returns>One sentence.</returns>
    public static string Compared(double pValue, string by) =>
        Fill.In((pValue < Level ? Texts.Differ : Texts.DifferNot)[by], ("p", Text.PValue(pValue)));

    /// <summary>What a step of the curve is, told of the first line where a quarter of its units were still watched.</summary>
    /// <param name="report">The report.</param>
    /// <returns>One sentence; null where there is no line.</returns>
    public static string? Here(RecurrenceReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (RecurrenceChart.Drawn(report) is not [{ } group, ..])
        {
            return null;
        }

        RecurrenceStep step = Last(group);
        return (report.Axis == "calendar" ? Texts.DayHere : Texts.AgeHere).For(
            step.AtRisk, ("day", Text.Number(step.Day)), ("mean", Text.Number(step.Mean)), ("ten", Text.Number(UnitsOfTheExample * step.Mean)));
    }

    private static string Reached(string text, RecurrenceGroup group)
    {
        RecurrenceStep last = Last(group);
        string bounds = last is { Lower: { } lower, Upper: { } upper } ? Fill.In(Texts.Bounds, ("lower", Text.Number(lower)), ("upper", Text.Number(upper))) : string.Empty;
        return Fill.In(text, ("group", group.Name), ("mean", Text.Number(last.Mean)), ("bounds", bounds), ("day", Text.Number(last.Day)));
    }

    // The oldest ages rest on the few units that reached them: the curve is read where a quarter of all still stood behind it.
    private static RecurrenceStep Last(RecurrenceGroup group) => group.Steps.LastOrDefault(step => step.AtRisk * 4 >= group.Units) ?? group.Steps[^1];
}
