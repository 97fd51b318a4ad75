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
        int[] all = [.. Enumerable.Range(0, repairs.Count)];
        int[] seen = [.. Enumerable.Range(0, failures.Count)];
        return
        [
            .. Of(RepeatOf.Position, all.ToLookup(i => (repairs[i].Unit, repairs[i].Position)),
                seen.Where(i => failures[i].FoundPosition is not null).ToLookup(i => (failures[i].Unit, failures[i].FoundPosition!.Value))),
            .. Of(RepeatOf.Code, all.Where(i => repairs[i].Code is not null).ToLookup(i => (repairs[i].Unit, repairs[i].Code!.Value)),
                seen.Where(i => failures[i].Code is not null).ToLookup(i => (failures[i].Unit, failures[i].Code!.Value))),
        ];

        IEnumerable<RepeatTrial> Of(RepeatOf of, ILookup<(int Unit, int Key), int> done, ILookup<(int Unit, int Key), int> came) => done
            .OrderBy(place => place.Key)
            .SelectMany(place => AtPlace(
                of, place.Key, [.. place.GroupBy(i => repairs[i].AtMs).OrderBy(g => g.Key).Select(Visit)],
                [.. came[place.Key].OrderBy(i => failures[i].AtMs).ThenBy(i => failures[i].FoundPosition).ThenBy(i => failures[i].Code)]));

        // A visit that changed several positions for one fault is one try to mend it. The order of the input must not show.
        int[] Visit(IEnumerable<int> visit) => [.. visit.OrderBy(i => repairs[i].Position).ThenBy(i => repairs[i].Batch).ThenBy(i => i)];

        IEnumerable<RepeatTrial> AtPlace(RepeatOf of, (int Unit, int Key) place, int[][] visits, int[] came)
        {
            int next = 0;
            for (int v = 0; v < visits.Length; v++)
            {
                RepairDone repair = repairs[visits[v][0]];
                while (next < came.Length && failures[came[next]].AtMs <= repair.AtMs)
                {
                    next++;
                }

                double end = EndDays(of, repair, windowDays);
                double failed = next < came.Length ? DaysAfter(repair, failures[came[next]].AtMs) : double.PositiveInfinity;
                double mended = v + 1 < visits.Length ? DaysAfter(repair, repairs[visits[v + 1][0]].AtMs) : double.PositiveInfinity;
                bool back = failed <= end && failed <= mended;

                // A next repair without a failure before it ends the watch: a part swapped unfailed, or the same trouble finished later.
                double planned = !back && mended < end ? mended : end;
                if (planned > 0)
                {
                    yield return new RepeatTrial(of, place.Unit, place.Key, visits[v], back ? came[next] : -1, planned, back ? failed : planned);
                }
            }
        }
    }

    private static double DaysAfter(RepairDone repair, long atMs) => ((double)atMs - repair.AtMs) / RepeatOptions.MillisecondsPerDay;

    private static double EndDays(RepeatOf of, RepairDone repair, double windowDays)
    {
        double watched = Math.Min(windowDays, DaysAfter(repair, repair.WatchedToMs));
        return of == RepeatOf.Position && repair.LeftUnfailedAtMs is { } left ? Math.Min(watched, DaysAfter(repair, left)) : watched;
    }
}
