namespace Washwear.Analytics.Recurrence;

/// <summary>A unit's times between events, from an origin at which it was as new or had just had an event.</summary>
/// <param name="Origin">Age 0 where watching began there, else the first event.</param>
/// <param name="Ages">Ages of the events after the origin, two or more, the last above the origin.</param>
/// <param name="Late">1 where watching began above age 0, else 0.</param>
internal readonly record struct Renewals(double Origin, double[] Ages, int Late)
{
    /// <summary>Units that have two or more times between events which are not all 0.</summary>
    public static IEnumerable<Renewals> Of(IReadOnlyList<EventHistory> histories)
    {
        ArgumentNullException.ThrowIfNull(histories);
        foreach (EventHistory history in histories)
        {
            double[] ages = history.Events.ToArray();
            bool late = history.From > 0;
            if (ages.Length < (late ? 3 : 2) || (late && ages[^1] == ages[0]))
            {
                continue;
            }

            yield return late ? new Renewals(ages[0], ages[1..], 1) : new Renewals(0, ages, 0);
        }
    }

    /// <summary>The mean of <see cref="SquaredDeviations"/> if the events were a Poisson process.</summary>
    public double ExpectedSquaredDeviations => Ages.Length * (Ages.Length - 1.0) / (Ages.Length + 1);

    /// <summary>The times between events, in order.</summary>
    public double[] Gaps()
    {
        double[] gaps = new double[Ages.Length];
        double last = Origin;
        for (int i = 0; i < gaps.Length; i++)
        {
            gaps[i] = Ages[i] - last;
            last = Ages[i];
        }

        return gaps;
    }

    /// <summary>Sum of (time / mean time - 1)^2 over the times between events.</summary>
    public double SquaredDeviations()
    {
        double mean = (Ages[^1] - Origin) / Ages.Length;
        double sum = 0;
        foreach (double gap in Gaps())
        {
            double off = (gap / mean) - 1;
            sum += off * off;
        }

        return sum;
    }
}
