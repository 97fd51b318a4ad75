using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Counts windows of one unit and rule from its periods, given in order and without a hole from the first window's begin on. Not safe for
/// concurrent use.
/// </summary>
public sealed class TallyBuilder
{
    private static readonly int Causes = Enum.GetValues<Cause>().Length;
    private static readonly int Results = Enum.GetValues<ObligationResult>().Length;
    private readonly Window[] _windows;

    /// <summary>Begins.</summary>
    /// <param name="windows">Windows [from, to), each with both ends and longer than nothing.</param>
    /// <param name="commissioned">First instant in service: where no earlier wash is known, the first gap begins there.</param>
    public TallyBuilder(IReadOnlyList<Interval> windows, Instant? commissioned) => _windows =
        [.. windows.Select(window => new Window(window.Start.ToUnixTimeTicks(), window.End.ToUnixTimeTicks(), commissioned?.ToUnixTimeTicks()))];

    /// <summary>Adds the next period.</summary>
    /// <param name="period">The period; what lies outside the windows is left out.</param>
    public void Add(CleaningPeriod period) => Add(period.Data);

    /// <summary>The figures of each window, in the order of the windows.</summary>
    public IReadOnlyList<CleaningTally> Build() => [.. _windows.Select(window => window.Build())];

    internal void Add(in PeriodData period)
    {
        foreach (Window window in _windows)
        {
            window.Add(period);
        }
    }

    private sealed class Window(long from, long to, long? commissioned)
    {
        private readonly long[] _ticks = new long[Causes];
        private readonly int[] _results = new int[Results];
        private bool _begun;
        private long? _lastWash;
        private long _gapFrom;
        private bool _gapIsKnown;
        private (long From, long To, bool Known)? _longest;

        public void Add(in PeriodData period)
        {
            // Most periods lie beside most of many windows: a later one changes nothing, an earlier one tells its last wash and the
            // deadlines behind its end.
            if (period.From >= to)
            {
                return;
            }

            Judge(period);
            if (period.To <= from)
            {
                _lastWash = period.WashEnds.Count > 0 ? period.WashEnds[^1] : period.LastWashBefore ?? _lastWash;
                return;
            }

            if (period.From <= from)
            {
                _lastWash = period.LastWashBefore ?? _lastWash;
            }

            Charge(period);
            foreach (long end in period.WashEnds)
            {
                Wash(end);
            }
        }

        public CleaningTally Build()
        {
            Begin();
            Close(to);
            int onTime = _results[(int)ObligationResult.OnTime];
            return new CleaningTally(
                _ticks, onTime + _results[(int)ObligationResult.Missed], onTime, _results[(int)ObligationResult.Unknown],
                _results[(int)ObligationResult.Excused], _longest!.Value);
        }

        private void Judge(in PeriodData period)
        {
            for (int i = 0; i < period.Deadlines.Count; i++)
            {
                long deadline = period.Deadlines[i];
                _results[(int)period.Results[i]] += deadline > from && deadline <= to ? 1 : 0;
            }
        }

        private void Charge(in PeriodData period)
        {
            long begin = Math.Max(period.From, from);
            long end = Math.Min(period.To, to);
            if (end <= begin)
            {
                return;
            }

            Cause cause = period.FirstCause;
            for (int i = 0; i < period.ChangedAt.Count && period.ChangedAt[i] < end; i++)
            {
                long at = period.ChangedAt[i];
                if (at > begin)
                {
                    _ticks[(int)cause] += at - begin;
                    begin = at;
                }

                cause = period.ChangedTo[i];
            }

            _ticks[(int)cause] += end - begin;
        }

        private void Wash(long end)
        {
            if (end <= from)
            {
                _lastWash = end;
            }
            else if (end < to)
            {
                Begin();
                if (end > _gapFrom)
                {
                    Close(end);
                }
            }
        }

        /// <summary>The first gap begins with the last wash known, else with service, else with the window.</summary>
        private void Begin()
        {
            if (!_begun)
            {
                (_begun, _gapIsKnown) = (true, _lastWash is not null || commissioned is not null);
                _gapFrom = _lastWash ?? (commissioned is { } start ? Math.Min(start, to) : from);
            }
        }

        private void Close(long end)
        {
            if (_longest is not { } longest || end - _gapFrom > longest.To - longest.From)
            {
                _longest = (_gapFrom, end, _gapIsKnown);
            }

            (_gapFrom, _gapIsKnown) = (end, true);
        }
    }
}
