namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Looks for what would change a verdict. More events move a verdict from 'better' over 'none' to 'worse' and longer quiet moves it the
/// other way, so halving finds the edge with few trials.
/// </summary>
internal static class ChangeSearch
{
    /// <summary>Smallest number of events that makes 'getting worse', largest that makes 'getting better'; null where none does.</summary>
    /// <param name="judge">Verdict after a number of events.</param>
    /// <param name="least">Events below which there is no verdict, 0 or more.</param>
    /// <param name="most">Most events to try, above <paramref name="least"/>.</param>
    public static (int? FewestToWorse, int? MostToBetter) Counts(Func<int, TrendFinding> judge, int least, int most)
    {
        int? worse = Smallest(count => judge(count) == TrendFinding.GettingWorse, 0, most);
        int? notBetter = Smallest(count => judge(count) != TrendFinding.GettingBetter, least, most);
        return (worse, notBetter == least ? null : (notBetter - 1) ?? most);
    }

    /// <summary>
    /// Shortest stretch at which a condition holds, to a precision; 0 where it holds at once, null where not even at the longest.
    /// </summary>
    public static double? Shortest(Func<double, bool> holds, double longest, double precision)
    {
        if (holds(0))
        {
            return 0;
        }

        double low = 0, high = Math.Min(longest, 1000 * precision);
        while (!holds(high))
        {
            if (high >= longest)
            {
                return null;
            }

            (low, high) = (high, Math.Min(longest, 2 * high));
        }

        while (high - low > precision && high - low > high * 1e-12)
        {
            double middle = low + ((high - low) / 2);
            (low, high) = holds(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }

    /// <summary>Smallest number at which a condition holds that holds from there on; null where not even at the most.</summary>
    public static int? Smallest(Func<int, bool> holds, int least, int most)
    {
        if (holds(least))
        {
            return least;
        }

        int low = least, step = 1;
        int high = Math.Min(most, least + step);
        while (!holds(high))
        {
            if (high == most)
            {
                return null;
            }

            step = Math.Min(most, 2 * step);
            (low, high) = (high, Math.Min(most, high + step));
        }

        while (high - low > 1)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = holds(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }
}
