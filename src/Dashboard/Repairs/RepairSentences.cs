using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>Words on repairs.</summary>
public static class RepairSentences
{
    /// <summary>What is known of a repair.</summary>
    /// <param name="row">The repair; its sentence may still be empty.</param>
    public static string State(RepairRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.State switch
        {
            RepairState.ProvenByProofs => "Proven: every proof that was asked for passed.",
            RepairState.ProvenByWashes => $"Proven by {Text.Counted(row.CleanWashes, "clean wash", "clean washes")} in a row since the repair.",
            RepairState.Contradicted => "In doubt: " + Against(row.Contradiction) + ".",
            _ => $"Repaired, not proven. Missing: {Listed(row.Missing)}; or {Left(row)} in a row.",
        };
    }

    /// <summary>What looks wrong with what the visit says of the repair.</summary>
    /// <param name="verdict">What is known of it.</param>
    /// <param name="saidProven">Whether the visit called it proven.</param>
    public static IReadOnlyList<string> Doubts(RepairVerdict verdict, bool saidProven)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict switch
        {
            { State: RepairState.Contradicted, Missing.Count: 0 } =>
                [$"The visit's proofs passed, but {Against(verdict.Contradiction)}: one of the two is wrong, or something else failed."],
            { IsProven: false } when saidProven => ["The visit calls the repair proven, but nothing on record shows that yet."],
            _ => [],
        };
    }

    /// <summary>The state in a few words.</summary>
    /// <param name="state">The state.</param>
    public static string Name(RepairState state) => state switch
    {
        RepairState.ProvenByProofs => "Proven by its proofs",
        RepairState.ProvenByWashes => "Proven by its washes",
        RepairState.NotProven => "Repaired, not proven",
        RepairState.Contradicted => "In doubt",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Not a state of a repair."),
    };

    /// <summary>How a fault ended, in a few words.</summary>
    /// <param name="result">How it ended.</param>
    public static string Name(EpisodeResult result) => result switch
    {
        EpisodeResult.FixedAtFirstVisit => "Fixed at the first visit",
        EpisodeResult.FixedLater => "Took several visits",
        EpisodeResult.CameBack => "Came back",
        EpisodeResult.NoVisit => "Cleared without a visit",
        EpisodeResult.TooRecent => "Too recent to tell",
        _ => throw new ArgumentOutOfRangeException(nameof(result), result, "Not a result."),
    };

    /// <summary>The finding on quality.</summary>
    /// <param name="total">All repairs.</param>
    /// <param name="days">Length of the window, days.</param>
    /// <param name="repeatDays">Days within which a fault that comes back is a repeat.</param>
    public static string Finding(QualityRow total, int days, int repeatDays)
    {
        ArgumentNullException.ThrowIfNull(total);
        if (total.FirstVisitFix.Share is not { } first)
        {
            return $"No fault that visits ended in the last {days} days is old enough to judge.";
        }

        string proven = total.Proven.Share is { } share ? $", and {Text.Share(share.Value)} of the repairs are proven" : string.Empty;
        return $"{Text.Share(first.Value)} of faults were fixed at the first visit and stayed away for {repeatDays} days; "
            + $"{Text.Share(total.Repeat.Share?.Value)} came back within that time{proven}.";
    }

    private static string Against(RepairContradiction contradiction) => contradiction switch
    {
        RepairContradiction.WashOfVisitStopped => "the unit's last wash of the visit did not run to its end",
        RepairContradiction.WashOfVisitTooLow => "the unit's last wash of the visit was of a lower grade than its rule asks for",
        RepairContradiction.DetergentLeft => "detergent was found left after the wash",
        RepairContradiction.FirstWashStopped => "a fault stopped the first wash after it",
        RepairContradiction.FirstWashRefused => "the unit refused the first wash after it",
        RepairContradiction.SameFaultAgain => "the same fault was there again within seven days",
        _ => "something speaks against it",
    };

    private static string Left(RepairRow row)
    {
        int left = Math.Max(1, row.CleanWashesAsked - row.CleanWashes);
        return row.CleanWashes == 0 ? Text.Counted(left, "clean wash", "clean washes") : Text.Counted(left, "more clean wash", "more clean washes");
    }

    private static string Listed(IReadOnlyList<string> missing) =>
        missing.Count == 0 ? "nothing" : string.Join(", ", missing.Select(code => Text.Words(code).ToLowerInvariant()));
}
