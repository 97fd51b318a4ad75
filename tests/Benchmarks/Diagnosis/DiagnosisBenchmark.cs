using Washwear.Analytics.Diagnosis;

namespace Washwear.Benchmarks.Diagnosis;

/// <summary>
/// What the diagnosis saves on faults whose cause is known: minutes to the right cause (checks, repairs in vain, and the second visit where
/// the cause was missed) in its order of checks against the catalogue's and the cheapest first, all three with the same probabilities, the
/// same results of checks and the same end. Then whether the parts that it lists sufficed, and whether what it says happens.
/// </summary>
internal static class DiagnosisBenchmark
{
    private const double LeastSaved = 0.3;
    private const double Level = 0.9;
    private const double MostOff = 0.05;
    private const double MostMilliseconds = 50;
    private const int FewestInABin = 100;
    private static readonly int[] LearntFrom = [101, 102];
    private static readonly int[] Seeds = [21, 22, 23, 24, 25, 26];

    public static Task RunAsync()
    {
        FleetCases fleets = new(LearntFrom);
        FaultCase[] cases = [.. Seeds.SelectMany(fleets.Of)];
        FaultCase[] choices = [.. cases.Where(one => DiagnosisSession.After(one.Case, []).Stage == DiagnosisStage.CheckNext)];
        Report.Line($"learnt from seeds {string.Join(", ", LearntFrom)} ({fleets.Visits} visits), tried on seeds {string.Join(", ", Seeds)}: {cases.Length} faults, {choices.Length} of them with something to check");
        Orders("demo catalogue", choices);
        FaultCase[] invented = [.. RandomCatalogue.Cases(seed: 7, catalogues: 60, faults: 50)];
        Orders("60 random catalogues of 6 causes and 8 checks (seed 7)", invented);
        double answer = Report.MedianSeconds(9, () => _ = DiagnosisSession.After(invented[0].Case, []));
        Report.Against("milliseconds for an answer with 8 checks and 6 causes", 1000 * answer, MostMilliseconds, least: false);
        Parts(cases);
        Calibration(cases);
        Report.Line($"mean logarithm of the probability of the true cause: catalogue {Score(cases, one => one.ByCatalogue):F3}, with the fleet's visits {Score(cases, one => one.WithoutAge):F3}, with the age of the parts {Score(cases, one => one.Case.Probabilities[one.Truth]):F3}");
        return Task.CompletedTask;
    }

    private static void Orders(string what, FaultCase[] cases)
    {
        IReadOnlyDictionary<string, bool>[] shown = [.. cases.Select((one, i) => PlayedVisit.Draw(one, new Random(1000 + i)))];
        PlayedVisit[] Play(Func<FaultCase, DiagnosisState, ProposedCheck> choose) =>
            [.. cases.AsParallel().AsOrdered().Select((one, i) => PlayedVisit.Of(one, shown[i], state => choose(one, state)))];

        PlayedVisit[] ours = Play((_, state) => state.Next!);
        PlayedVisit[] byIndex = Play((_, state) => state.Alternatives.MaxBy(check => check.ResolvedPerMinute)!);
        PlayedVisit[] listed = Play((one, state) => state.Alternatives.MinBy(check => one.Case.Checks.ToList().IndexOf(check.Check))!);
        PlayedVisit[] cheapest = Play((_, state) => state.Alternatives.MinBy(check => check.Check.Minutes)!);
        Report.Line($"{what}: {cases.Length} faults; minutes to the right cause (of these, checks)");
        Line("order of the diagnosis", ours);
        Line("most probability per minute", byIndex);
        Line("catalogue's order", listed);
        Line("cheapest first", cheapest);
        double promised = cases.Average(one => DiagnosisSession.After(one.Case, []).ExpectedMinutes);
        Report.Line($"  promised before the first check, repair included: {promised:F1}; it took {ours.Average(visit => visit.ToTheCause + visit.RightMinutes):F1}");
        Report.Against($"{what}: share of minutes saved against the catalogue's order", Saved(ours, listed), LeastSaved, least: true);
        Report.Line($"  of check minutes alone {1 - (ours.Average(visit => visit.CheckMinutes) / listed.Average(visit => visit.CheckMinutes)):P1}; against cheapest first {Saved(ours, cheapest):P1}");
    }

    private static void Line(string order, PlayedVisit[] visits)
    {
        PlayedVisit[] certain = [.. visits.Where(visit => visit.Certain)];
        Report.Line($"  {order}: {visits.Average(visit => visit.ToTheCause):F1} ({visits.Average(visit => visit.CheckMinutes):F1}); certain in {Share(certain.Length, visits.Length):P1}, then right in {Share(certain.Count(visit => visit.Right), certain.Length):P1}, said {certain.Select(visit => visit.Said).DefaultIfEmpty(0).Average():P1}");
    }

    private static void Parts(FaultCase[] cases)
    {
        PartsChoice[] chosen = [.. cases.Select(one => PartsToBring.Fewest(one.Needs, Level, new Dictionary<string, double>()))];
        bool Sufficed(FaultCase one, PartsChoice parts) => one.Needs[one.Truth].Parts?.All(parts.Parts.Contains) == true;
        int sufficed = cases.Zip(chosen).Count(pair => Sufficed(pair.First, pair.Second));
        Report.Line($"parts at {Level:P0}: {chosen.Average(parts => parts.Parts.Count):F2} a visit, said to cover {chosen.Average(parts => parts.Covered):P1}, level out of reach in {chosen.Count(parts => !parts.Reachable)}");
        Report.Against($"share of {cases.Length} visits where the parts listed sufficed", Share(sufficed, cases.Length), Level, least: true);
    }

    private static void Calibration(FaultCase[] cases)
    {
        Report.Line($"said before any check, and happened (causes of {cases.Length} faults, 'something else' included):");
        var said = cases.SelectMany(one => one.Case.Probabilities.Select((probability, cause) => (probability, Happened: cause == one.Truth)));
        double worst = 0;
        foreach (var bin in said.GroupBy(pair => Math.Min(9, (int)(pair.probability * 10))).OrderBy(bin => bin.Key))
        {
            double mean = bin.Average(pair => pair.probability);
            double happened = bin.Average(pair => pair.Happened ? 1.0 : 0);
            Report.Line($"  said {mean:P1}, happened {happened:P1} of {bin.Count()}");
            worst = bin.Count() >= FewestInABin ? Math.Max(worst, Math.Abs(mean - happened)) : worst;
        }

        Report.Against($"most that said and happened differ, bins of at least {FewestInABin}", worst, MostOff, least: false);
    }

    private static double Saved(PlayedVisit[] ours, PlayedVisit[] theirs) =>
        1 - (ours.Average(visit => visit.ToTheCause) / theirs.Average(visit => visit.ToTheCause));

    private static double Score(FaultCase[] cases, Func<FaultCase, double> probability) => cases.Average(one => Math.Log(probability(one)));

    private static double Share(int part, int all) => all == 0 ? 0 : (double)part / all;
}
