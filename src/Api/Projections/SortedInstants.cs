namespace Washwear.Api.Projections;

/// <summary>Counting in sorted instants.</summary>
internal static class SortedInstants
{
    /// <summary>How many instants are not after the one given.</summary>
    /// <param name="sorted">Instants, ascending, milliseconds UTC.</param>
    /// <param name="instant">The instant, milliseconds UTC.</param>
    public static int CountUpTo(ReadOnlySpan<long> sorted, long instant)
    {
        int low = 0;
        int high = sorted.Length;
        while (low < high)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = sorted[middle] <= instant ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
