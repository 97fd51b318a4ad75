using Washwear.Analytics.Recurrence;

namespace Washwear.Api.Failures;

/// <summary>Turns failures into what each unit went through, over its age or over the calendar.</summary>
internal static class UnitEvents
{
    private const double MsPerDay = 86_400_000;

    /// <summary>Histories over the age of the units, days since they were commissioned.</summary>
    /// <param name="view">The failures.</param>
    /// <param name="fromMs">Failures and time before it are left aside, ms UTC; null: nothing is.</param>
    /// <returns>Each unit that was watched, with its history.</returns>
    public static IReadOnlyList<(WatchedUnit Unit, EventHistory History)> ByAge(FailureView view, long? fromMs) =>
        Of(view, fromMs ?? long.MinValue, unit => unit.BornMs);

    /// <summary>Histories over the window, days since it began.</summary>
    /// <param name="view">The failures.</param>
    /// <returns>Each unit that was watched in the window, with its history.</returns>
    public static IReadOnlyList<(WatchedUnit Unit, EventHistory History)> ByCalendar(FailureView view) =>
        Of(view, view.FromMs, _ => view.FromMs);

    private static List<(WatchedUnit Unit, EventHistory History)> Of(FailureView view, long fromMs, Func<WatchedUnit, long> zero)
    {
        // The failures stand unit by unit, each in the order of time.
        ILookup<WatchedUnit, Failure> failures = view.Failures.ToLookup(
            failure => failure.Unit, (IEqualityComparer<WatchedUnit>)ReferenceEqualityComparer.Instance);
        var histories = new List<(WatchedUnit Unit, EventHistory History)>(view.Units.Count);
        foreach (WatchedUnit unit in view.Units)
        {
            long begin = Math.Max(unit.FromMs, fromMs);
            long end = Math.Min(unit.ToMs, view.ToMs);
            if (end > begin)
            {
                double Days(long ms) => (ms - zero(unit)) / MsPerDay;

                // A failure at the very instant at which the watch began belongs to the time before.
                double[] ages = [.. failures[unit].Where(failure => failure.AtMs > begin && failure.AtMs <= end).Select(failure => Days(failure.AtMs)).Order()];
                histories.Add((unit, new EventHistory(Days(begin), Days(end), ages)));
            }
        }

        return histories;
    }
}
