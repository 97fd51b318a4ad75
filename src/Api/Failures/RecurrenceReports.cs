using Washwear.Analytics.Recurrence;
using Washwear.Api.Http;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>Assembles how many failures a unit has had on average by an age or a day.</summary>
internal static class RecurrenceReports
{
    private const double Level = 0.95;
    private const int MostGroups = 6;
    private const string All = "all";
    private const string NotNamed = "not named";

    /// <summary>The curves.</summary>
    /// <param name="view">The failures.</param>
    /// <param name="fromIsChosen">Whether the reader chose the begin of the window; else curves over age hold all records.</param>
    public static RecurrenceReport Of(FailureView view, bool fromIsChosen)
    {
        IReadOnlyList<(WatchedUnit Unit, EventHistory History)> histories = view.Choice.Axis == RecurrenceAxis.Calendar
            ? UnitEvents.ByCalendar(view)
            : UnitEvents.ByAge(view, fromIsChosen ? view.FromMs : null);
        (string Code, string Name, EventHistory[] Histories)[] groups = [.. Split(histories, view.Choice.Compare)];
        RecurrenceGroup[] curves = [.. groups.Take(MostGroups).Select(Curve)];
        var doubts = new List<string>();
        if (groups.Length > MostGroups)
        {
            doubts.Add(RecurrenceSentences.OnlyLargest(MostGroups));
        }

        RecurrenceComparison? comparison = view.Choice.Compare is { } by ? Compare(groups, by, doubts) : null;
        int failures = histories.Sum(one => one.History.Ages.Count);
        bool onCalendar = view.Choice.Axis == RecurrenceAxis.Calendar;
        return new RecurrenceReport(
            new Basis(
                view.AsOf, onCalendar || fromIsChosen ? view.Choice.From : null, view.Choice.To, RecurrenceSentences.Method, onCalendar ? null : "days", histories.Count, failures,
                view.Excluded, doubts),
            RecurrenceSentences.Of(curves, view.Choice, comparison),
            Json.Name(view.Choice.Axis.ToString()),
            curves,
            comparison);
    }

    private static IEnumerable<(string Code, string Name, EventHistory[] Histories)> Split(
        IReadOnlyList<(WatchedUnit Unit, EventHistory History)> histories, string? by) => by is null
        ? [(All, All, [.. histories.Select(one => one.History)])]
        : histories.GroupBy(one => Group(one.Unit, by))
            .Select(group => (group.Key.Code, group.Key.Name, group.Select(one => one.History).ToArray()))
            .OrderByDescending(group => group.Item3.Length)
            .ThenBy(group => group.Code, StringComparer.OrdinalIgnoreCase);

    private static (string Code, string Name) Group(WatchedUnit unit, string by)
    {
        Registry.UnitEntry entry = unit.Terms.Unit;
        return by switch
        {
            "operator" => (entry.Site.Operator.Resource.Operator, entry.Site.Operator.Resource.Name),
            "site" => (entry.Site.Resource.Site, entry.Site.Resource.Name),
            "model" => (entry.Model.Resource.Model, entry.Model.Resource.Name),
            _ => (entry.Site.Resource.Region ?? NotNamed, entry.Site.Resource.Region ?? RecurrenceSentences.NotNamed),
        };
    }

    private static RecurrenceComparison? Compare((string Code, string Name, EventHistory[] Histories)[] groups, string by, List<string> doubts)
    {
        if (groups.Length < 2)
        {
            doubts.Add(RecurrenceSentences.OneGroup);
            return null;
        }

        RecurrenceTestResult test = RecurrenceTest.Compare([.. groups.Select(group => new HistoryGroup(group.Code, group.Histories))]);
        if (test.FewUnits)
        {
            doubts.Add(RecurrenceSentences.FewUnits(RecurrenceTest.FewestUnits));
        }

        return test is { ChiSquare: { } chiSquare, PValue: { } p }
            ? new RecurrenceComparison(RecurrenceSentences.Test, chiSquare, test.DegreesOfFreedom, p, RecurrenceSentences.Compared(p, by))
            : null;
    }

    private static RecurrenceGroup Curve((string Code, string Name, EventHistory[] Histories) group)
    {
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(group.Histories, Level);
        var steps = new List<RecurrenceStep>();
        int place = 0;
        foreach (MeanCumulativeStep step in curve.Thinned())
        {
            int failures = 0;
            for (; place < curve.Steps.Count && curve.Steps[place].Age <= step.Age; place++)
            {
                failures += curve.Steps[place].Events;
            }

            steps.Add(new RecurrenceStep(step.Age, step.AtRisk, failures, step.Mean, step.Lower, step.Upper));
        }

        return new RecurrenceGroup(group.Code, group.Name, curve.Units, curve.Events, steps);
    }
}
