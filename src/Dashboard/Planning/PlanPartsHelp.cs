using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What the figures on replacing parts mean, each with an example from the reader's own data.</summary>
internal static class PlanPartsHelp
{
    private static PlanPartsTexts Texts => PlanPartsTexts.Now;

    /// <summary>Of parts that are best replaced at an age.</summary>
    /// <param name="rows">The parts, what saves most first.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfTable(IReadOnlyList<ReplacementRow> rows, string? currency)
    {
        var lines = new List<(string, string)>();
        if (rows.Count == 0)
        {
            return lines;
        }

        ReplacementRow row = rows[0];
        (string, string)[] of = [("position", PlanSentences.Lower(row.PositionName)), ("clock", Text.ClockUnit(row.Clock))];
        if (row.Age is { Lower: not null } or { Upper: not null })
        {
            lines.Add((Texts.TableHelp.RangeName, Fill.In(Texts.TableHelp.Range, [("range", Text.Range(row.Age)), .. of])));
        }

        if (row.FlatFrom is { } from && double.IsFinite(from))
        {
            bool isOpen = row.FlatTo is not { } to || !double.IsFinite(to);
            lines.Add((Texts.TableHelp.FlatName, Fill.In(
                isOpen ? Texts.TableHelp.FlatOpen : Texts.TableHelp.Flat,
                ("from", Text.Number(from)), ("to", Text.Number(row.FlatTo)), ("clock", Text.ClockUnitAfter(row.Clock)), of[0])));
        }

        if (row.SavingPerYear is { } saving && double.IsFinite(saving))
        {
            lines.Add((Texts.Table.Saves, Fill.In(
                Texts.TableHelp.Saves,
                ("each", PlanWords.MoneyOfRow(saving, currency)), ("parts", Text.Count(row.Parts)), ("all", PlanWords.Money(saving * row.Parts, currency)), of[0])));
        }

        return lines;
    }

    /// <summary>Of the facts beside a cost curve.</summary>
    /// <param name="row">The parts that the curve is of.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfCurve(ReplacementRow row, string? currency)
    {
        var lines = new List<(string, string)>();
        if (row.Shape is { } shape && double.IsFinite(shape.Value))
        {
            bool isBounded = shape is { Lower: { } low, Upper: { } high } && double.IsFinite(low) && double.IsFinite(high);
            lines.Add((Texts.Curve.Shape, Fill.In(
                isBounded ? Texts.CurveHelp.ShapeWears : Texts.CurveHelp.Shape,
                ("shape", Text.Number(shape.Value)), ("lower", Text.Number(shape.Lower)), ("upper", Text.Number(shape.Upper)))));
        }

        if (row is { PlannedCost: > 0 and var planned, FailureCost: { } failure } && double.IsFinite(planned) && double.IsFinite(failure))
        {
            lines.Add((Texts.CurveHelp.CostsName, Fill.In(
                Texts.CurveHelp.Costs,
                ("failure", PlanWords.Money(failure, currency)), ("planned", PlanWords.Money(planned, currency)), ("times", Text.Number(failure / planned)))));
        }

        if (row.ChanceNoWear is { } none && double.IsFinite(none))
        {
            lines.Add((Texts.Curve.NoWear, Fill.In(Texts.CurveHelp.NoWear, ("share", Text.Share(none)), ("thousand", PlanWords.OfThousand(none)))));
        }

        if (row.Age is { } age && double.IsFinite(age.Value))
        {
            lines.Add((Texts.Curve.BestAge, Fill.In(Texts.CurveHelp.BestAge, ("age", Text.Estimated(age, Text.ClockUnit(row.Clock))))));
        }

        return lines;
    }

    /// <summary>Of pairs that are swapped together.</summary>
    /// <param name="rows">The pairs.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfCompanions(IReadOnlyList<CompanionRow> rows, string? currency)
    {
        var lines = new List<(string, string)>();
        if (rows.Where(row => row.SavingFiveYears is { } saving && double.IsFinite(saving)).MaxBy(row => row.SavingFiveYears) is not { } row)
        {
            return lines;
        }

        (string, string)[] pair = [("companion", PlanSentences.Lower(row.CompanionName)), ("opened", PlanSentences.Lower(row.OpenedName))];
        lines.Add((Texts.Companions.Saved, Fill.In(
            Texts.CompanionsHelp.Saved,
            [("money", PlanWords.MoneyOfRow(row.SavingFiveYears, currency)), ("error", PlanWords.Money(2 * row.SavingStandardError, currency, [row.SavingFiveYears])), .. pair])));
        if (row.OpeningsPerYear is > 0 and { } openings)
        {
            lines.Add((Texts.CompanionsHelp.OpeningsName, Fill.In(
                Texts.CompanionsHelp.Openings, [("count", Text.Number(openings)), ("years", Text.Number(1 / openings)), .. pair])));
        }

        lines.Add((Texts.Companions.PastAge, Fill.In(
            Texts.CompanionsHelp.PastAge, [("count", Text.Count(row.PastAgeNow)), ("units", Text.Count(row.Units)), .. pair])));
        return lines;
    }
}
