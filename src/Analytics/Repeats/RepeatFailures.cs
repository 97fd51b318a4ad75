using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Repeats;

/// <summary>
/// Repairs that came back. A repair is a trial: does its position, or the fault code that led to it, fail again within the window? Only the
/// first such failure counts. What is expected of a repair by position is the chance that its new part fails within as much of the window as
/// could be watched, by the life model; where there is none, and always by fault code, 1 - exp(-rate x days) with the rate of the other
/// units' repeats there, (repeats + 1/2) / days watched. Each unit and position, unit and code: exact chance of so many or more, adjusted over
/// all places of its kind (Benjamini and Hochberg 1995). By position only failures found at that position count, so that a sound place has
/// the chances that the life model gives.
/// </summary>
public static class RepeatFailures
{
    /// <summary>Finds and tells apart the repeats.</summary>
    /// <param name="repairs">All repairs for a failure; parts fitted as a precaution are none.</param>
    /// <param name="failures">All failures of the same units; one that stands for a part and for its fault at once is given once, with both.</param>
    /// <param name="model">What life models and tests say; <see cref="RepeatModel.None"/> where there are none.</param>
    /// <param name="options">Window, early days, false discovery rate; left out: 90, 14, 10 %.</param>
    /// <exception cref="ArgumentOutOfRangeException">An option, or a chance that the model gives, lies outside its range.</exception>
    public static RepeatResult Find(
        IReadOnlyList<RepairDone> repairs, IReadOnlyList<FailureSeen> failures, RepeatModel model, RepeatOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(repairs);
        ArgumentNullException.ThrowIfNull(failures);
        ArgumentNullException.ThrowIfNull(model);
        options ??= new RepeatOptions();
        options.Require();
        List<RepeatTrial> trials = RepeatTrial.All(repairs, failures, options.WindowDays);
        var expectation = new RepeatExpectation(repairs, trials, model);
        List<RepeatPlaceTest> places = [.. Places(trials, expectation, RepeatOf.Position, options), .. Places(trials, expectation, RepeatOf.Code, options)];
        var groups = trials.GroupBy(t => (t.Of, t.Key)).OrderBy(g => g.Key).Select(g => Group([.. g], expectation, options)).ToList();
        IReadOnlyList<Repeat> repeats = new RepeatKinds(repairs, failures, model, options, expectation, places).Of(trials);
        int notWatched = repairs.Count - trials.Where(t => t.Of == RepeatOf.Position).Sum(t => t.Repairs.Length);
        return new RepeatResult(options, repeats, Surest(places), groups, notWatched, [.. Doubts(repairs.Count, notWatched, groups)]);
    }

    private static IEnumerable<RepeatPlaceTest> Places(
        List<RepeatTrial> trials, RepeatExpectation expectation, RepeatOf of, RepeatOptions options)
    {
        RepeatPlaceTest[] tests = [.. RepeatTrial.ByUnitAndKey(trials).Where(place => place[0].Of == of).Select(place => Place(place, expectation))];
        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust([.. tests.Select(t => t.PValue)]);
        return tests.Select((test, i) => test with { AdjustedPValue = adjusted[i], Called = adjusted[i] <= options.FalseDiscoveryRate });
    }

    private static RepeatPlaceTest Place(RepeatTrial[] trials, RepeatExpectation expectation)
    {
        double?[] chances = [.. trials.Select(expectation.Chance)];
        int cameBack = trials.Count(t => t.CameBack);
        bool known = chances.All(c => c is not null);
        double? pValue = known ? PoissonBinomial.AtLeast(cameBack, [.. chances.Select(c => c!.Value)]) : null;
        RepeatTrial one = trials[0];
        return new RepeatPlaceTest(one.Of, one.Unit, one.Key, trials.Length, cameBack, known ? chances.Sum() : null, pValue, null, false);
    }

    private static RepeatGroup Group(RepeatTrial[] trials, RepeatExpectation expectation, RepeatOptions options)
    {
        RepeatTrial[] whole = [.. trials.Where(t => t.PlannedDays >= options.WindowDays)];
        double?[] chances = [.. trials.Select(expectation.ByModel)];
        double? expected = chances.All(c => c is not null) ? chances.Order().Sum() : null;
        int cameBack = trials.Count(t => t.CameBack), ofWhole = whole.Count(t => t.CameBack);
        return new RepeatGroup(
            trials[0].Of, trials[0].Key, trials.Length, cameBack, whole.Length, ofWhole,
            ProportionBounds.ClopperPearson(ofWhole, whole.Length, options.Level), expected,
            expected is { } e ? ExcessFailures.Ratio(cameBack, e, options.Level) : null);
    }

    private static List<RepeatPlaceTest> Surest(List<RepeatPlaceTest> places) =>
        [.. places.OrderBy(p => p.AdjustedPValue ?? 2).ThenBy(p => p.PValue ?? 2).ThenByDescending(p => p.CameBack)
            .ThenBy(p => p.Of).ThenBy(p => p.Unit).ThenBy(p => p.Key)];

    private static IEnumerable<string> Doubts(int repairs, int notWatched, List<RepeatGroup> groups)
    {
        if (repairs == 0)
        {
            yield return "There is no repair on record, so nothing could come back.";
        }

        if (notWatched > 0)
        {
            yield return $"Repairs so recent that nothing could come back yet are left out ({notWatched} of {repairs}).";
        }

        int without = groups.Count(g => g.Of == RepeatOf.Position && g.Expected is null);
        if (without > 0)
        {
            yield return $"Positions without a life model for all their repairs ({without}) are held against the other units' repeats.";
        }
    }
}
