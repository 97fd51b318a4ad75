using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Benchmarks.Diagnosis;

/// <summary>A fault whose true cause is known, with what was believed before any check.</summary>
/// <param name="Fault">Fault code.</param>
/// <param name="Truth">Index of the true cause.</param>
/// <param name="Case">Causes, checks and repairs.</param>
/// <param name="Needs">What each cause needs.</param>
/// <param name="ByCatalogue">Probability of the true cause by the catalogue alone.</param>
/// <param name="WithoutAge">The same with the fleet's visits, before the age of the parts.</param>
internal sealed record FaultCase(
    string Fault, int Truth, DiagnosisCase Case, IReadOnlyList<CauseParts> Needs, double ByCatalogue, double WithoutAge);

/// <summary>How a visit went.</summary>
/// <param name="CheckMinutes">Minutes of checks.</param>
/// <param name="InVainMinutes">Minutes of repairs in vain, and of the second visit where one was needed.</param>
/// <param name="RightMinutes">Minutes of the right repair.</param>
/// <param name="Certain">Whether the certainty was reached.</param>
/// <param name="Right">Whether the group that was named held the cause.</param>
/// <param name="Said">Probability of the group that was named.</param>
internal sealed record PlayedVisit(double CheckMinutes, double InVainMinutes, double RightMinutes, bool Certain, bool Right, double Said)
{
    private static readonly ConditionalWeakTable<DiagnosisCase, ConcurrentDictionary<string, DiagnosisState>> States = [];

    /// <summary>Minutes until the right cause was known to be the right one, without its own repair.</summary>
    public double ToTheCause => CheckMinutes + InVainMinutes;

    /// <summary>Plays a visit: checks in an order of somebody's choice until the session ends, then the repairs that it names.</summary>
    /// <param name="fault">The fault.</param>
    /// <param name="fires">Whether each check would fire, the same whatever the order.</param>
    /// <param name="choose">Chooses among the checks that could tell more.</param>
    public static PlayedVisit Of(FaultCase fault, IReadOnlyDictionary<string, bool> fires, Func<DiagnosisState, ProposedCheck> choose)
    {
        List<EnteredResult> results = [];
        DiagnosisState state = After(fault.Case, results);
        while (state.Stage == DiagnosisStage.CheckNext)
        {
            string check = choose(state).Check.Check;
            results.Add(new EnteredResult(check, fires[check] ? CheckOutcome.Fires : CheckOutcome.DoesNotFire));
            state = After(fault.Case, results);
        }

        bool mended = state.Repairs.Contains(fault.Truth);
        double inVain = state.Repairs.TakeWhile(cause => cause != fault.Truth).Sum(cause => fault.Case.RepairMinutes[cause]!.Value);
        return new PlayedVisit(
            state.MinutesSpent, inVain + (mended ? 0 : fault.Case.Options.SecondVisitMinutes),
            mended ? fault.Case.RepairMinutes[fault.Truth]!.Value : 0, state.Stage == DiagnosisStage.Certain,
            state.Groups[0].Causes.Contains(fault.Truth), state.Groups[0].Probability);
    }

    // Faults of one catalogue ask the same questions again and again.
    private static DiagnosisState After(DiagnosisCase diagnosis, IReadOnlyList<EnteredResult> results) => States.GetOrCreateValue(diagnosis)
        .GetOrAdd(string.Join(' ', results), _ => DiagnosisSession.After(diagnosis, results));

    /// <summary>What each check of a case shows.</summary>
    public static IReadOnlyDictionary<string, bool> Draw(FaultCase fault, Random random) => fault.Case.Checks.ToDictionary(
        check => check.Check,
        check => random.NextDouble() < (check.SpeaksOf.Contains(fault.Truth) ? 1 - check.Miss : check.FalseAlarm));
}
