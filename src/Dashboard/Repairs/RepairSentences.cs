using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>Words on repairs.</summary>
public static class RepairSentences
{
    /// <summary>How the quality of repairs is counted.</summary>
    public static string Method => Texts.Method;

    /// <summary>Name of the group of all repairs.</summary>
    public static string All => Texts.All;

    /// <summary>Name of the group of faults of which nobody told the position.</summary>
    public static string NotTold => Texts.NotTold;

    private static RepairTexts Texts => RepairTexts.Now;

    /// <summary>What is known of a repair.</summary>
    /// <param name="row">The repair; its sentence may still be empty.</param>
    public static string State(RepairRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        RepairStateTexts texts = Texts.State;
        return row.State switch
        {
            RepairState.ProvenByProofs => texts.ProvenByProofs,
            RepairState.ProvenByWashes => texts.ProvenByWashes.For(row.CleanWashes),
            RepairState.Contradicted => Fill.In(texts.InDoubt, ("against", Unsettled(row))),
            _ => Fill.In(texts.NotProven, ("missing", Unsettled(row))),
        };
    }

    /// <summary>What speaks against a repair that is in doubt, or what another that is not proven lacks.</summary>
    /// <param name="row">The repair.</param>
    /// <returns>A clause, without a full stop.</returns>
    public static string Unsettled(RepairRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.State == RepairState.Contradicted
            ? Texts.Against[row.Contradiction]
            : (row.CleanWashes == 0 ? Texts.State.Lacks : Texts.State.LacksMore)
                .For(Math.Max(1, row.CleanWashesAsked - row.CleanWashes), ("missing", Listed(row.Missing)));
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
                [Fill.In(Texts.State.ProofsPassedBut, ("against", Texts.Against[verdict.Contradiction]))],
            { IsProven: false } when saidProven => [Texts.State.CallsItProven],
            _ => [],
        };
    }

    /// <summary>The state in a few words.</summary>
    /// <param name="state">The state.</param>
    public static string Name(RepairState state) => Texts.States[state];

    /// <summary>How a fault ended, in a few words.</summary>
    /// <param name="result">How it ended.</param>
    public static string Name(EpisodeResult result) => Texts.Results[result];

    /// <summary>The finding on quality.</summary>
    /// <param name="total">All repairs.</param>
    /// <param name="days">Length of the window, days.</param>
    /// <param name="repeatDays">Days within which a fault that comes back is a repeat.</param>
    public static string Finding(QualityRow total, int days, int repeatDays)
    {
        ArgumentNullException.ThrowIfNull(total);
        RepairFindingTexts texts = Texts.Finding;
        return total.FirstVisitFix.Share is not { } first
            ? Fill.In(texts.TooEarly, ("days", Text.Count(days)))
            : Fill.In(
                total.Proven.Share is null ? texts.Shares : texts.SharesProven,
                ("first", Text.Share(first.Value)), ("again", Text.Share(total.Repeat.Share?.Value)), ("proven", Text.Share(total.Proven.Share?.Value)),
                ("days", Text.Count(repeatDays)));
    }

    /// <summary>How to read shares by technician, or why there are none.</summary>
    /// <param name="named">Whether technicians are named.</param>
    /// <param name="anyApart">Whether one stands apart by more than chance.</param>
    public static string OnTechnicians(bool named, bool anyApart) => Fill.In(
        !named ? Texts.Technicians.NoneNamed : anyApart ? Texts.Technicians.OrderApart : Texts.Technicians.Order,
        ("count", Text.Count(TeamShares.LeastCases)));

    private static string Listed(IReadOnlyList<string> missing) => missing.Count == 0
        ? Texts.State.Nothing
        : string.Join(", ", missing.Select(code => Texts.MissingProofs.TryGetValue(code, out string? words) ? words : Text.CodeInside(code)));
}
