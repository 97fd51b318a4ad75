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
        string what = decisions.Count == 0
            ? "Nothing needs a decision"
            : Text.Counted(decisions.Count, "thing") + (decisions.Count == 1 ? " needs" : " need") + " a decision";
        return what + (trend.Verdict switch
        {
            "getting_worse" => "; failures come more often than before.",
            "getting_better" => "; failures come less often than before.",
            "no_trend_shown" => "; failures come neither more nor less often beyond chance.",
            _ => "; there are too few failures to tell a trend.",
        });
    }

    private static IEnumerable<Candidate> Batches(FailureFindings found) => found.Repeats.Batches.Where(batch => batch.Called).Select(batch =>
    {
        var parts = new PartLifeChoice(batch.Position) { By = "batch", Group = batch.Batch };
        return new Candidate(batch.Failures - batch.Expected, new FailureDecision(
            $"{batch.PositionName} of batch {batch.Batch} fails {Times(batch.Ratio)} as often as others.",
            [Counted(batch.Failures, batch.Expected, batch.Ratio), batch.StillFitted == 0 ? "None of the batch is still fitted." : $"{Text.Counted(batch.StillFitted, "part")} of the batch {(batch.StillFitted == 1 ? "is" : "are")} still fitted."],
            batch.StillFitted > 0 ? "Decide whether to swap those still fitted, and take it up with the supplier" : "Take it up with the supplier",
            Urls.PartLives(parts, LifeKind.StillFitted),
            Urls.PartLives(parts, LifeKind.Failed)));
    });

    private static IEnumerable<Candidate> Places(FailureFindings found) => found.Repeats.Places.Where(place => place.Called).Select(place =>
        new Candidate(place.Failures - place.Expected, new FailureDecision(
            $"{place.Unit} in {place.SiteName} wears out {place.PositionName.ToLowerInvariant()} after {place.PositionName.ToLowerInvariant()}.",
            [Counted(place.Failures, place.Expected, place.Ratio)],
            "Look for the cause at the unit (water, pressure, supply, use) before the next part is fitted",
            Urls.Unit(place.Unit),
            Urls.FailureRecords(found.Choice with { Of = FailureKind.Parts, Unit = place.Unit, Position = place.Position, From = DateTimeOffset.UnixEpoch }))));

    private static IEnumerable<Candidate> Units(FailureFindings found) => found.Rates.Rows.Where(row => row.Called && found.Rates.By == RateGroup.Unit).Select(row =>
    {
        double usual = found.Rates.Fleet.PerUnitYear?.Value ?? 0;
        return new Candidate(row.Figures.Failures - (usual * row.Figures.UnitYears), new FailureDecision(
            $"{row.Code} in {row.Name} fails more often than chance explains.",
            [
                $"{Text.Counted(row.Figures.Failures, "failure")} in {Text.Number(Math.Round(row.Figures.UnitYears, 1))} unit-years; a unit has {Text.Number(usual)} a year on average.",
                $"The chance that it is truly worse than the fleet is {Text.Share(row.ChanceWorse)}.",
            ],
            "Plan a visit that looks at the whole unit",
            Urls.Unit(row.Code),
            Urls.FailureRecords(found.Choice with { Unit = row.Code })));
    });

    private static IEnumerable<Candidate> Positions(FailureFindings found) => found.Repeats.Positions
        .Where(row => row.Position is not null && row.Expected is not null && row.Ratio?.Lower > 1)
        .Select(row => new Candidate(row.CameBack - row.Expected!.Value, new FailureDecision(
            $"Repairs of the {row.Name.ToLowerInvariant()} do not hold.",
            [
                $"{Text.Count(row.CameBack)} of {Text.Counted(row.Repairs, "repair")} failed again within {Text.Counted(found.Repeats.WindowDays, "day")}; "
                    + $"parts of this kind should have brought {Text.Number(row.Expected)}.",
            ],
            "Look at how it is fitted, and at what else is worn when it fails",
            Urls.Failures(found.Choice with { Of = FailureKind.Parts, Position = row.Position }) + "#repeats",
            Urls.FailureRecords(found.Choice with { Of = FailureKind.Parts, Position = row.Position }))));

    private static IEnumerable<Candidate> Wrong(FailureFindings found) => found.WrongCauses.Where(code => code.Count >= FewestWrongCauses).Select(code =>
        new Candidate(code.Count, new FailureDecision(
            $"After repairs of ‘{code.Name}’ the same fault came back and something else was the cause.",
            [
                $"{Text.Count(code.Count)} of {Text.Counted(code.Repairs, "repair")} of this fault: "
                    + $"{Text.Share(ProportionBounds.ClopperPearson(code.Count, code.Repairs))} looked at the wrong place first.",
            ],
            "Change what is checked first for this fault",
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
            return new Candidate(row.Count - earlier, new FailureDecision(
                $"‘{row.Name}’ is on the rise.",
                [
                    $"{Text.Count(row.Count)} in this time, {Text.Count(row.EarlierCount)} in the time before it"
                        + (row.Change is { } by ? $"; the rate is {Times(by)} what it was." : "."),
                ],
                "Find out what changed: a delivery, a supplier, a cleaning product, a rule",
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
                "The fleet as a whole is getting worse.",
                [found.Trend.Sentence],
                "See what most of the failures come from",
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
                $"Nothing stands out beyond chance; ‘{row.Name}’ costs most cleaning.",
                [$"{Text.Counted(row.Count, "failure")} and {Text.Number(row.UnwashedDays)} days without a wash that counts."],
                "See which kitchens waited longest",
                Urls.Failures(choice),
                Urls.FailureRecords(choice))
            { StandsOut = false };
        });

    private static string Counted(int failures, double expected, Estimate ratio) =>
        $"{Text.Counted(failures, "failure")} where {Text.Number(expected)} {(expected == 1 ? "was" : "were")} expected of parts of these ages: {Text.Range(ratio)} times as many.";

    private static string Times(Estimate ratio) => Text.Number(ratio.Value) + " times";

    private readonly record struct Candidate(double Excess, FailureDecision Decision);
}
