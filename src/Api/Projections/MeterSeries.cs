namespace Washwear.Api.Projections;

/// <summary>Readings of one counter of one unit, in order of time. Immutable.</summary>
/// <remarks>A reading below the one before it says that the counter began anew, as after its board was replaced: nothing is known across
/// such a place, however high the counter has climbed since.</remarks>
internal sealed class MeterSeries
{
    private readonly long[] _atMs;
    private readonly double[] _totals;
    private readonly int[] _runs;

    /// <summary>Takes readings over.</summary>
    /// <param name="readings">The readings, in any order.</param>
    public MeterSeries(IEnumerable<(long AtMs, double Total)> readings)
    {
        (long AtMs, double Total)[] sorted = [.. readings.Order()];
        _atMs = [.. sorted.Select(reading => reading.AtMs)];
        _totals = [.. sorted.Select(reading => reading.Total)];
        _runs = new int[sorted.Length];
        for (int index = 1; index < _runs.Length; index++)
        {
            _runs[index] = _runs[index - 1] + (_totals[index] < _totals[index - 1] ? 1 : 0);
        }
    }

    /// <summary>How far the counter went, by linear interpolation between readings.</summary>
    /// <param name="fromMs">Start, milliseconds UTC.</param>
    /// <param name="toMs">End, milliseconds UTC, not before the start.</param>
    /// <returns>The difference, 0 or more; null: the readings do not reach over the whole span, or the counter began anew in it.</returns>
    public double? Between(long fromMs, long toMs)
    {
        if (_atMs.Length < 2 || fromMs < _atMs[0] || toMs > _atMs[^1])
        {
            return null;
        }

        int before = SortedInstants.CountUpTo(_atMs, fromMs) - 1;
        int after = SortedInstants.CountUpTo(_atMs, toMs - 1);
        return fromMs == toMs ? 0 : _runs[before] == _runs[after] ? At(toMs) - At(fromMs) : null;
    }

    private double At(long instantMs)
    {
        int before = SortedInstants.CountUpTo(_atMs, instantMs) - 1;
        if (_atMs[before] == instantMs)
        {
            return _totals[before];
        }

        double share = (instantMs - _atMs[before]) / (double)(_atMs[before + 1] - _atMs[before]);
        return _totals[before] + (share * (_totals[before + 1] - _totals[before]));
    }
}
