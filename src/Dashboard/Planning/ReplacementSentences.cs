using Washwear.Analytics.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on when parts are best replaced.</summary>
public static class ReplacementSentences
{
    /// <summary>The finding over some rows.</summary>
    /// <param name="rows">The rows.</param>
    public static string Finding(IReadOnlyCollection<ReplacementRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        PartsFindingTexts texts = PlanPartsTexts.Now.Finding;
        if (rows.Count == 0)
        {
            return texts.None;
        }

        string[] early = [.. rows.Where(row => row.Verdict == PlanVerdict.ReplaceAtAge).Select(row => row.PositionName).Distinct()];
        int run = rows.Where(row => row.Verdict == PlanVerdict.RunToFailure).Select(row => row.Position).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        int unknown = rows.Where(row => row.Verdict == PlanVerdict.Unknown).Select(row => row.Position).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        string?[] clauses =
        [
            early.Length == 0 ? texts.NoneCheaper : texts.Cheaper.For(early.Length, ("parts", string.Join(", ", early.Select(PlanSentences.Lower)))),
            run == 0 ? null : texts.Run.For(run),
            unknown == 0 ? null : texts.Unknown.For(unknown),
        ];
        return string.Join("; ", clauses.OfType<string>()) + ".";
    }

    /// <summary>What is best done with the parts of a row.</summary>
    /// <param name="row">The row; its sentence may still be empty.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static string Row(ReplacementRow row, string? currency)
    {
        ArgumentNullException.ThrowIfNull(row);
        PartsBestTexts texts = PlanPartsTexts.Now.Best;
        if (row.NotPlanned is { } why)
        {
            return Fill.In(texts.Nothing, ("why", why));
        }

        if (row.Verdict == PlanVerdict.RunToFailure)
        {
            return row.Reason ?? texts.Run;
        }

        string best = Fill.In(
            row.AgeDays is not null && row.Clock != "days" ? texts.ReplaceDays : texts.Replace,
            ("age", Text.Number(row.Age?.Value)),
            ("clock", Text.ClockUnitAfter(row.Clock)),
            ("days", Text.Number(row.AgeDays)));
        string saving = row.SavingPerYear is { } money ? " " + Fill.In(texts.Saves, ("money", PlanWords.MoneyOfRow(money, currency))) : string.Empty;
        string flat = row.FlatFrom is { } from
            ? " " + Fill.In(row.FlatTo is null ? texts.FlatOpen : texts.Flat, ("from", Text.Number(from)), ("to", Text.Number(row.FlatTo)))
            : string.Empty;
        return best + saving + flat;
    }

    /// <summary>Why a verdict is what it is.</summary>
    /// <param name="reason">The reason.</param>
    /// <param name="saving">Share of the cost of failures that the best age saves; null: there is none.</param>
    /// <param name="least">Share that it saves very likely; null: there is none.</param>
    public static string Reason(ReplacementReason reason, double? saving, double? least) =>
        Fill.In(PlanPartsTexts.Now.Reasons[reason], ("saving", Percent(saving)), ("least", Percent(least)));

    /// <summary>What is asked: whether a failure cost half as much.</summary>
    public static string HalfTheFailureCost => PlanPartsTexts.Now.OtherCost.Half;

    /// <summary>What is asked: whether a failure cost twice as much.</summary>
    public static string TwiceTheFailureCost => PlanPartsTexts.Now.OtherCost.Twice;

    // With a decimal: savings are judged against few per cent.
    private static string Percent(double? share) => share is { } known ? Text.Tick(Math.Round(100 * known, 1, MidpointRounding.AwayFromZero)) + " %" : Text.NotKnown;
}
