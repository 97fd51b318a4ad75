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
        // The failures stand unit by unit, in the order of the units, those of a unit in the order of time.
        var histories = new List<(WatchedUnit Unit, EventHistory History)>(view.Units.Count);
        int place = 0;
        foreach (WatchedUnit unit in view.Units)
        {
            long begin = Math.Max(unit.FromMs, fromMs);
            long end = Math.Min(unit.ToMs, view.ToMs);
            long born = zero(unit);
            var ages = new List<double>();
            for (; place < view.Failures.Count && view.Failures[place] is { } failure && failure.Unit == (object)unit; place++)
            {
                // A failure at the very instant at which the watch began belongs to the time before.
                if (failure.AtMs > begin && failure.AtMs <= end)
                {
                    ages.Add((failure.AtMs - born) / MsPerDay);
                }
            }

            if (end > begin)
            {
                histories.Add((unit, new EventHistory((begin - born) / MsPerDay, (end - born) / MsPerDay, ages)));
            }
        }

        return histories;
    }
}
