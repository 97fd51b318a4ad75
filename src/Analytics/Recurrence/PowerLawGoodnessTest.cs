namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Cramer-von Mises test of a power law: 1/(12m) + sum ((t_i/T_i)^b - (2i - 1)/(2m))^2 over m times scaled by their windows and sorted, b
/// the shape corrected for bias, (m - 1)/sum ln(T_i/t_i). Given how many events each unit had, scaled times of units watched from age 0
/// follow u^shape whatever their windows and scales, so the test holds for windows that differ too; units that entered late are left
/// out. Upper points: 400,000 simulated records for each m, in accord with MIL-HDBK-189; between them by 1/m, beyond 60 as at 60.
/// </summary>
public static class PowerLawGoodnessTest
{
    private const int FewestEvents = 5;

    /// <summary>Distance exceeded by chance in 10, 5 and 1 % of records with m events, simulated.</summary>
    public static readonly IReadOnlyList<(int Events, double Upper10, double Upper05, double Upper01)> UpperPoints =
    [
        (5, 0.1597025055, 0.1993569139, 0.2980415892),
        (10, 0.167684329, 0.212253343, 0.3250714085),
        (20, 0.1706492274, 0.216785349, 0.3306320175),
        (30, 0.1723877767, 0.2182327643, 0.3340201741),
        (60, 0.1733360203, 0.2202617434, 0.3359620867),
    ];

    /// <summary>Tests the events against a power law.</summary>
    /// <param name="histories">The units; those without events add nothing.</param>
    /// <param name="end">How the records ended.</param>
    /// <returns>Null with fewer than two events from units watched from age 0, or all of them at the end.</returns>
    /// <exception cref="ArgumentException">A record said to end at an event goes on beyond its last one.</exception>
    public static PowerLawGoodness? Of(IReadOnlyList<EventHistory> histories, RecordEnd end = RecordEnd.ByTime)
    {
        TrendWindow[] windows = [.. TrendWindow.Of(histories, end)];
        double[] scaled = [.. windows.Where(w => w.Late == 0).SelectMany(w => w.Ages.ToArray().Select(age => age / w.To)).Order()];
        double logs = -scaled.Sum(Math.Log);
        int m = scaled.Length;
        if (m < 2 || logs <= 0)
        {
            return null;
        }

        // A record that ended at an event has lost it as the last of n = m + 1: (n - 2) is m - 1 as well.
        double shape = (m - 1) / logs;
        double sum = 1.0 / (12 * (double)m);
        for (int i = 0; i < m; i++)
        {
            double off = Math.Pow(scaled[i], shape) - (((2.0 * i) + 1) / (2.0 * m));
            sum += off * off;
        }

        return new PowerLawGoodness(
            sum, m, windows.Sum(w => w.Late),
            Point(m, p => p.Upper10), Point(m, p => p.Upper05), Point(m, p => p.Upper01));
    }

    private static double? Point(int events, Func<(int Events, double Upper10, double Upper05, double Upper01), double> column)
    {
        if (events < FewestEvents)
        {
            return null;
        }

        int next = UpperPoints.Count - 1;
        while (next > 0 && UpperPoints[next - 1].Events >= events)
        {
            next--;
        }

        if (next == 0 || events >= UpperPoints[^1].Events)
        {
            return column(UpperPoints[next]);
        }

        double from = 1.0 / UpperPoints[next - 1].Events, to = 1.0 / UpperPoints[next].Events;
        double share = (from - (1.0 / events)) / (from - to);
        return column(UpperPoints[next - 1]) + (share * (column(UpperPoints[next]) - column(UpperPoints[next - 1])));
    }
}
