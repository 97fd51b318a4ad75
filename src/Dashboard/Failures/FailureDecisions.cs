using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What the decisions are drawn from.</summary>
/// <param name="Choice">What the reader chose.</param>
/// <param name="Trend">The trend.</param>
/// <param name="Rates">Units by their rates.</param>
/// <param name="Repeats">What came back.</param>
/// <param name="WrongCauses">For each fault code, how many repairs were followed by the same fault and a repair elsewhere.</param>
/// <param name="Parts">Failed parts by position, ordered by days without a wash.</param>
/// <param name="Faults">Faults by code, ordered by days without a wash.</param>
public sealed record FailureFindings(
    FailureChoice Choice,
    FailureTrendReport Trend,
    RatesReport Rates,
    RepeatsReport Repeats,
    IReadOnlyList<WrongCauses> WrongCauses,
    ParetoReport Parts,
    ParetoReport Faults);

/// <summary>How often the repair of a fault changed what was not its cause.</summary>
/// <param name="Code">Fault code.</param>
/// <param name="Name">Its text.</param>
/// <param name="Count">Repairs after which the same fault came back and another position was repaired.</param>
/// <param name="Repairs">Repairs of this fault.</param>
public sealed record WrongCauses(string Code, string Name, int Count, int Repairs);

/// <summary>
/// The few things that need a decision: whatever stands out by more than chance, ordered by how many failures it brought above what was to be
/// expected. Where nothing does, what costs most cleaning.
/// </summary>
public static class FailureDecisions
{
    private const int Most = 5;
    private const int MostOfAKind = 2;
    private const int FewestWrongCauses = 3;
    private const double FalseDiscoveryRate = 0.10;

    /// <summary>The decisions, most pressing first.</summary>
    /// <param name="found">What was found.</param>
    /// <returns>At most five.</returns>
    public static IReadOnlyList<FailureDecision> Of(FailureFindings found)
    {
        ArgumentNullException.ThrowIfNull(found);
        IEnumerable<Candidate>[] kinds =
        [
            Batches(found), Places(found), Units(found), Positions(found), Wrong(found), Rising(found, found.Parts), Rising(found, found.Faults), Worse(found),
        ];
        FailureDecision[] pressing =
        [
            .. kinds.SelectMany(kind => kind.OrderByDescending(one => one.Excess).Take(MostOfAKind))
                .OrderByDescending(one => one.Excess)
                .Take(Most)
                .Select(one => one.Decision),
        ];
        return pressing.Length > 0 ? pressing : [.. Costliest(found).Take(Most)];
    }

    /// <summary>The page's answer.</summary>
    /// <param name="decisions">The decisions.</param>
    /// <param name="trend">The trend.</param>
    /// <returns>One or two sentences.</returns>
    public static string Sentence(IReadOnlyList<FailureDecision> decisions, FailureTrendReport trend)
    {
        ArgumentNullException.ThrowIfNull(decisions);
        ArgumentNullException.ThrowIfNull(trend);
        string what = decisions.Count == 0 ? Texts.None : Texts.Some.For(decisions.Count);
        string text = trend.Verdict switch
        {
            "getting_worse" => Texts.GettingWorse,
            "getting_better" => Texts.GettingBetter,
            "no_trend_shown" => Texts.NoTrendShown,
            _ => Texts.TooLittleData,
        };
        return Fill.In(text, ("what", what));
    }

    private static DecisionTexts Texts => DecisionTexts.Now;

    private static IEnumerable<Candidate> Batches(FailureFindings found) => found.Repeats.Batches.Where(batch => batch.Called).Select(batch =>
    {
        var parts = new PartLifeChoice(batch.Position) { By = "batch", Group = batch.Batch };
        return new Candidate(batch.Failures - batch.Expected, new FailureDecision(
            Fill.In(Texts.Batch, ("position", batch.PositionName), ("batch", batch.Batch), ("times", Text.Number(batch.Ratio.Value))),
            [MoreThanExpected(batch.Failures, batch.Expected, batch.Ratio), batch.StillFitted == 0 ? Texts.BatchGone : Texts.BatchFitted.For(batch.StillFitted)],
            batch.StillFitted > 0 ? Texts.SwapBatch : Texts.AskSupplier,
            Urls.PartLives(parts, LifeKind.StillFitted),
            Urls.PartLives(parts, LifeKind.Failed)));
    });

    private static IEnumerable<Candidate> Places(FailureFindings found) => found.Repeats.Places.Where(place => place.Called).Select(place =>
        new Candidate(place.Failures - place.Expected, new FailureDecision(
            Fill.In(Texts.Place, ("unit", place.Unit), ("site", place.SiteName), ("position", Text.Inside(place.PositionName))),
            [MoreThanExpected(place.Failures, place.Expected, place.Ratio)],
            Texts.LookAtPlace,
            Urls.Unit(place.Unit),
            Urls.FailureRecords(found.Choice with { Of = FailureKind.Parts, Unit = place.Unit, Position = place.Position, From = DateTimeOffset.UnixEpoch }))));

    private static IEnumerable<Candidate> Units(FailureFindings found) => found.Rates.Rows.Where(row => row.Called && found.Rates.By == RateGroup.Unit).Select(row =>
    {
        double usual = found.Rates.Fleet.PerUnitYear?.Value ?? 0;
        return new Candidate(row.Figures.Failures - (usual * row.Figures.UnitYears), new FailureDecision(
            Fill.In(Texts.Unit, ("unit", row.Code), ("site", row.Name)),
            [
                Texts.UnitFailures.For(row.Figures.Failures, ("years", Text.Number(Math.Round(row.Figures.UnitYears, 1))), ("usual", Text.Number(usual))),
                Fill.In(Texts.UnitChance, ("chance", Text.Share(row.ChanceWorse))),
            ],
            Texts.VisitUnit,
            Urls.Unit(row.Code),
            Urls.FailureRecords(found.Choice with { Unit = row.Code })));
    });

    private static IEnumerable<Candidate> Positions(FailureFindings found) => found.Repeats.Positions
        .Where(row => row.Position is not null && row.Expected is not null && row.Ratio?.Lower > 1)
        .Select(row => new Candidate(row.CameBack - row.Expected!.Value, new FailureDecision(
            Fill.In(Texts.Position, ("position", Text.Inside(row.Name))),
            [
                Texts.PositionRepairs.For(
                    row.Repairs, ("back", Text.Count(row.CameBack)), ("within", Texts.WithinDays.For(found.Repeats.WindowDays)), ("expected", Text.Number(row.Expected))),
            ],
            Texts.LookAtFitting,
            Urls.Failures(found.Choice with { Of = FailureKind.Parts, Position = row.Position }) + "#repeats",
            Urls.FailureRecords(found.Choice with { Of = FailureKind.Parts, Position = row.Position }))));

    private static IEnumerable<Candidate> Wrong(FailureFindings found) => found.WrongCauses.Where(code => code.Count >= FewestWrongCauses).Select(code =>
        new Candidate(code.Count, new FailureDecision(
            Fill.In(Texts.WrongCause, ("fault", code.Name)),
            [
                Texts.WrongCauseRepairs.For(
                    code.Repairs, ("wrong", Text.Count(code.Count)), ("share", Text.Share(ProportionBounds.ClopperPearson(code.Count, code.Repairs)))),
            ],
            Texts.CheckAnother,
            Urls.Failures(found.Choice with { Of = FailureKind.Faults, Code = code.Code }) + "#repeats",
            Urls.FailureRecords(found.Choice with { Of = FailureKind.Faults, Code = code.Code }))));

    private static IEnumerable<Candidate> Rising(FailureFindings found, ParetoReport table) => table.Rows
        .Where(row => row.AdjustedPValue <= FalseDiscoveryRate && (row.Change?.Value ?? double.PositiveInfinity) > 1)
        .Select(row =>
        {
            FailureChoice choice = found.Choice with
            {
                Of = row.Code is null ? FailureKind.Parts : FailureKind.Faults,
                Position = row.Position,
                Code = row.Code,
            };
            double earlier = row.Change is { Value: > 0 } change ? row.Count / change.Value : 0;
            (string Name, string Value)[] counts = [("now", Text.Count(row.Count)), ("before", Text.Count(row.EarlierCount))];
            return new Candidate(row.Count - earlier, new FailureDecision(
                Fill.In(Texts.Rising, ("name", row.Name)),
                [row.Change is { } by ? Fill.In(Texts.RisingBy, [.. counts, ("times", Text.Number(by.Value))]) : Fill.In(Texts.RisingFromNone, counts)],
                Texts.FindChange,
                Urls.Failures(choice),
                Urls.FailureRecords(choice)));
        });

    private static IEnumerable<Candidate> Worse(FailureFindings found)
    {
        if (found.Trend.Verdict == "getting_worse")
        {
            int half = found.Trend.Months.Count / 2;
            int first = found.Trend.Months.Take(half).Sum(month => month.Failures);
            int second = found.Trend.Months.TakeLast(half).Sum(month => month.Failures);
            yield return new Candidate(Math.Max(0, second - first), new FailureDecision(
                Texts.Worse,
                [found.Trend.Sentence],
                Texts.SeeMost,
                Urls.Failures(found.Choice) + "#pareto",
                Urls.FailureRecords(found.Choice)));
        }
    }

    /// <summary>Nothing stands out: where most cleaning is lost, something is to be gained all the same.</summary>
    private static IEnumerable<FailureDecision> Costliest(FailureFindings found) => found.Faults.Rows
        .Where(row => row.UnwashedDays >= 1)
        .OrderByDescending(row => row.UnwashedDays)
        .Take(MostOfAKind)
        .Select(row =>
        {
            FailureChoice choice = found.Choice with { Of = FailureKind.Faults, Code = row.Code };
            return new FailureDecision(
                Fill.In(Texts.Costliest, ("name", row.Name)),
                [Texts.Costs.For(row.Count, ("days", Text.Number(row.UnwashedDays)))],
                Texts.SeeKitchens,
                Urls.Failures(choice),
                Urls.FailureRecords(choice))
            { StandsOut = false };
        });

    private static string MoreThanExpected(int failures, double expected, Estimate ratio) => Fill.In(
        expected == 1 ? Texts.MoreThanOneExpected : Texts.MoreThanExpected,
        ("failures", Texts.Failures.For(failures)), ("expected", Text.Number(expected)), ("range", Text.Range(ratio)));

    private readonly record struct Candidate(double Excess, FailureDecision Decision);
}
