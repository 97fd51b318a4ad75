namespace Washwear.Analytics.Repeats;

/// <summary>A repair as a trial: did the same come again?</summary>
/// <param name="Of">By position or by fault code.</param>
/// <param name="Unit">Unit.</param>
/// <param name="Key">Position or fault code.</param>
/// <param name="Repairs">Indices of the repairs that are this one trial: one by position, all of a visit by fault code.</param>
/// <param name="Failure">Index of the first failure that is a repeat; -1: none.</param>
/// <param name="PlannedDays">Days of the window that could be watched, had nothing come back.</param>
/// <param name="Days">Days watched until the repeat, or to the end.</param>
internal sealed record RepeatTrial(RepeatOf Of, int Unit, int Key, int[] Repairs, int Failure, double PlannedDays, double Days)
{
    public bool CameBack => Failure >= 0;

    /// <summary>All trials by position, then by fault code, each in the order of unit, key and time; those not watched at all are left out.</summary>
    public static List<RepeatTrial> All(IReadOnlyList<RepairDone> repairs, IReadOnlyList<FailureSeen> failures, double windowDays)
    {
        var trials = new List<RepeatTrial>(2 * repairs.Count);
        var done = new ByPlace(repairs.Count, i => (repairs[i].Unit, repairs[i].Position), Earlier);
        var found = new ByPlace(failures.Count, i => (failures[i].Unit, failures[i].FoundPosition), Sooner);
        Add(trials, RepeatOf.Position, done, found, repairs, failures, windowDays);
        done = new ByPlace(repairs.Count, i => (repairs[i].Unit, repairs[i].Code), Earlier);
        found = new ByPlace(failures.Count, i => (failures[i].Unit, failures[i].Code), Sooner);
        Add(trials, RepeatOf.Code, done, found, repairs, failures, windowDays);
        return trials;

        // The order of the input must not show.
        int Earlier(int a, int b) =>
            (repairs[a].AtMs, repairs[a].Position, repairs[a].Batch ?? long.MinValue, a).CompareTo((repairs[b].AtMs, repairs[b].Position, repairs[b].Batch ?? long.MinValue, b));

        int Sooner(int a, int b) => (failures[a].AtMs, failures[a].FoundPosition ?? long.MinValue, failures[a].Code ?? long.MinValue, a)
            .CompareTo((failures[b].AtMs, failures[b].FoundPosition ?? long.MinValue, failures[b].Code ?? long.MinValue, b));
    }

    /// <summary>The trials of each unit and key of its kind, of trials in the order of <see cref="All"/>.</summary>
    public static IEnumerable<RepeatTrial[]> ByUnitAndKey(List<RepeatTrial> trials)
    {
        for (int from = 0, to; from < trials.Count; from = to)
        {
            RepeatTrial first = trials[from];
            to = from + 1;
            while (to < trials.Count && (trials[to].Of, trials[to].Unit, trials[to].Key) == (first.Of, first.Unit, first.Key))
            {
                to++;
            }

            yield return [.. trials.GetRange(from, to - from)];
        }
    }

    private static void Add(
        List<RepeatTrial> trials, RepeatOf of, ByPlace done, ByPlace came, IReadOnlyList<RepairDone> repairs, IReadOnlyList<FailureSeen> failures,
        double windowDays)
    {
        int next = 0;
        for (int from = 0, to; from < done.Order.Length; from = to)
        {
            // A visit that changed several positions for one fault is one try to mend it.
            RepairDone repair = repairs[done.Order[from]];
            long place = done.Places[from];
            to = from + 1;
            while (to < done.Order.Length && done.Places[to] == place && repairs[done.Order[to]].AtMs == repair.AtMs)
            {
                to++;
            }

            while (next < came.Order.Length
                && (came.Places[next] < place || (came.Places[next] == place && failures[came.Order[next]].AtMs <= repair.AtMs)))
            {
                next++;
            }

            bool isHere = next < came.Order.Length && came.Places[next] == place;
            double end = EndDays(of, repair, windowDays);
            double failed = isHere ? DaysAfter(repair, failures[came.Order[next]].AtMs) : double.PositiveInfinity;
            bool isMended = to < done.Order.Length && done.Places[to] == place;
            double mended = isMended ? DaysAfter(repair, repairs[done.Order[to]].AtMs) : double.PositiveInfinity;
            bool back = failed <= end && failed <= mended;

            // A next repair without a failure before it ends the watch: a part swapped unfailed, or the same trouble finished later.
            double planned = !back && mended < end ? mended : end;
            if (planned > 0)
            {
                int key = of == RepeatOf.Position ? repair.Position : repair.Code!.Value;
                trials.Add(new RepeatTrial(of, repair.Unit, key, done.Order[from..to], back ? came.Order[next] : -1, planned, back ? failed : planned));
            }
        }
    }

    private static double DaysAfter(RepairDone repair, long atMs) => ((double)atMs - repair.AtMs) / RepeatOptions.MillisecondsPerDay;

    private static double EndDays(RepeatOf of, RepairDone repair, double windowDays)
    {
        double watched = Math.Min(windowDays, DaysAfter(repair, repair.WatchedToMs));
        return of == RepeatOf.Position && repair.LeftUnfailedAtMs is { } left ? Math.Min(watched, DaysAfter(repair, left)) : watched;
    }

    /// <summary>Indices by unit, key and time; those without a key are left out. Sorted, as tens of thousands of places are small.</summary>
    private sealed class ByPlace
    {
        public ByPlace(int count, Func<int, (int Unit, int? Key)> place, Comparison<int> inTime)
        {
            Order = [.. Enumerable.Range(0, count).Where(i => place(i).Key is not null)];
            Places = Array.ConvertAll(Order, i => Packed(place(i).Unit, place(i).Key!.Value));
            Array.Sort(Places, Order);
            for (int from = 0, to; from < Order.Length; from = to)
            {
                to = from + 1;
                while (to < Order.Length && Places[to] == Places[from])
                {
                    to++;
                }

                Order.AsSpan(from..to).Sort(inTime);
            }
        }

        public int[] Order { get; }

        /// <summary>Unit and key of each as one number, in their order.</summary>
        public long[] Places { get; }

        private static long Packed(int unit, int key) => ((long)unit << 32) | ((long)key - int.MinValue);
    }
}
