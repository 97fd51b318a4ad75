namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Tests of events that recur for trend, pooled over units with windows of their own. All that are called conditional use only where in
/// its window each event fell, given how many the unit had, so that units may differ in rate. Sources: Cox and Lewis (1966), Statistical
/// Analysis of Series of Events; MIL-HDBK-189; NIST/SEMATECH e-Handbook 8.2.3.4; Ascher and Feingold (1984), Repairable Systems.
/// </summary>
public static class TrendTests
{
    /// <summary>
    /// Laplace's test, conditional: (sum of ages - sum n_i middle_i) / root(sum n_i length_i^2 / 12), positive when worsening. Without
    /// trend each unit's events must be a Poisson process. The normal approximation is good from 4 events on.
    /// </summary>
    /// <param name="histories">The units; those without events add nothing.</param>
    /// <param name="end">How the records ended.</param>
    /// <exception cref="ArgumentException">Records that ended at an event go on beyond their last one.</exception>
    public static TrendTest Laplace(IReadOnlyList<EventHistory> histories, RecordEnd end = RecordEnd.ByTime)
    {
        (int units, int events, int late) = (0, 0, 0);
        double sum = 0, variance = 0;
        foreach (TrendWindow window in TrendWindow.Of(histories, end))
        {
            (units, events, late) = (units + 1, events + window.Ages.Length, late + window.Late);
            sum += window.FromMiddle();
            variance += window.Ages.Length * window.Length * window.Length / 12;
        }

        return events == 0
            ? TrendTest.None(TrendTestKind.Laplace, units, events, late)
            : TrendTest.FromNormal(TrendTestKind.Laplace, units, events, late, sum / Math.Sqrt(variance));
    }

    /// <summary>
    /// Laplace's sum with its variance taken from the units: sum U_i / root(sum U_i^2), U_i the unit's sum of ages less n_i middle_i.
    /// Holds for any events that come evenly over the window, in clusters too, as long as units do not depend on each other; wants at
    /// least some 20 units with events. Source: Lawless, Cigsar and Cook (2012), Technometrics 54, 147-158.
    /// </summary>
    /// <param name="histories">The units; those without events add nothing.</param>
    public static TrendTest LaplaceBetweenUnits(IReadOnlyList<EventHistory> histories)
    {
        (int units, int events, int late) = (0, 0, 0);
        double sum = 0, squares = 0;
        foreach (TrendWindow window in TrendWindow.Of(histories, RecordEnd.ByTime))
        {
            (units, events, late) = (units + 1, events + window.Ages.Length, late + window.Late);
            double own = window.FromMiddle();
            own = Math.Abs(own) < 1e-12 * window.Ages.Length * window.To ? 0 : own; // Rounding is no spread.
            sum += own;
            squares += own * own;
        }

        return squares == 0 || units < 2
            ? TrendTest.None(TrendTestKind.LaplaceBetweenUnits, units, events, late)
            : TrendTest.FromNormal(TrendTestKind.LaplaceBetweenUnits, units, events, late, sum / Math.Sqrt(squares));
    }

    /// <summary>
    /// The test of MIL-HDBK-189, conditional: chi-square 2 sum ln(length_i / time since the window began) with 2n degrees of freedom, large
    /// when improving. Exact for any number of events if each unit's are a Poisson process without trend, and strongest against a power
    /// of age. A unit that entered late is taken by where in its window its events fell, which keeps the test exact; it loses some of
    /// its strength, as the window's begin is not age 0.
    /// </summary>
    /// <param name="histories">The units; those without events add nothing.</param>
    /// <param name="end">How the records ended.</param>
    /// <exception cref="ArgumentException">Records that ended at an event go on beyond their last one.</exception>
    public static TrendTest MilitaryHandbook(IReadOnlyList<EventHistory> histories, RecordEnd end = RecordEnd.ByTime)
    {
        (int units, int events, int late) = (0, 0, 0);
        double sum = 0;
        foreach (TrendWindow window in TrendWindow.Of(histories, end))
        {
            (units, events, late) = (units + 1, events + window.Ages.Length, late + window.Late);
            foreach (double age in window.Ages.Span)
            {
                sum += Math.Log(window.Length / (age - window.From));
            }
        }

        return events == 0
            ? TrendTest.None(TrendTestKind.MilitaryHandbook, units, events, late)
            : TrendTest.FromChiSquare(TrendTestKind.MilitaryHandbook, units, events, late, 2 * sum);
    }

    /// <summary>
    /// Lewis and Robinson's test: Laplace's statistic over the coefficient of variation of the times between events, each over its unit's
    /// mean. Without trend events are a renewal process, regular or irregular. Times count from age 0 where watching began there, else from
    /// the first event. Source: Lewis and Robinson (1974); Lindqvist (2006), Statistical Science 21, 532-551. Pooled here with one
    /// coefficient for all units.
    /// </summary>
    /// <param name="histories">The units.</param>
    /// <param name="end">
    /// At the event: each unit up to its last event, divisor n - 1 a unit; units with fewer than two times between events add nothing. By
    /// time: whole windows with all events, the coefficient relative to that expected of a Poisson process, so that units with few events
    /// do not make it too small. The latter holds roughly where events come in clusters too, for which the former is far too ready to call
    /// worsening, as a record up to an event ends in a cluster.
    /// </param>
    public static TrendTest LewisRobinson(IReadOnlyList<EventHistory> histories, RecordEnd end = RecordEnd.AtEvent)
    {
        Renewals[] renewals = [.. Renewals.Of(histories)];
        TrendWindow[] windows = end == RecordEnd.AtEvent
            ? [.. renewals.Select(r => new TrendWindow(r.Origin, r.Ages[^1], r.Ages.AsMemory(..^1), r.Late))]
            : [.. TrendWindow.Of(histories, end)];
        double squares = renewals.Sum(r => r.SquaredDeviations());
        double divisor = renewals.Sum(r => end == RecordEnd.AtEvent ? r.Ages.Length - 1 : r.ExpectedSquaredDeviations);
        int events = windows.Sum(w => w.Ages.Length) + (end == RecordEnd.AtEvent ? windows.Length : 0);
        int late = windows.Sum(w => w.Late);
        if (divisor == 0 || squares < divisor * 1e-20)
        {
            return TrendTest.None(TrendTestKind.LewisRobinson, windows.Length, events, late);
        }

        double variance = windows.Sum(w => w.Ages.Length * w.Length * w.Length / 12) * squares / divisor;
        return TrendTest.FromNormal(
            TrendTestKind.LewisRobinson, windows.Length, events, late, windows.Sum(w => w.FromMiddle()) / Math.Sqrt(variance));
    }
}
