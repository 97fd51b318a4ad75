using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Analytics.Planning;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Assembles when parts are best replaced, by model, position and part number.</summary>
/// <param name="plans">The plan.</param>
internal sealed class ReplacementReports(FleetPlan plans)
{
    private const double DaysPerYear = 365.25;
    private const int CurvePoints = 60;

    /// <summary>Columns that the page sorts by; what saves most over all fitted parts stands first where none is named.</summary>
    public static IReadOnlyList<SortColumn<ReplacementRow>> Columns { get; } =
    [
        new("part", row => row.PositionName), new("saves", row => Saved(row)), new("fitted", row => row.Parts), new(Usual, row => Worth(row)),
    ];

    /// <summary>The column of the usual order, which has no head.</summary>
    public const string Usual = "worth";

    /// <summary>The rows of a page.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<ReplacementsReport> AssembleAsync(PlanFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        PlanPart[] asked = [.. plan.Book.Asked(filter)];
        ReplacementRow[] rows = Kept(plan, filter, asked);
        PageOf<ReplacementRow> taken = page.SortBy is null ? Paging.Take(rows, Key, page) : Sorting.Take(rows, Columns, page);
        return new ReplacementsReport(
            PlanBasis.Of(plan, asked, PlanMethod.Replacements), ReplacementSentences.Finding(rows), plan.Book.Plan.Terms.Currency, taken.Items, taken.Next);
    }

    /// <summary>The row whose cost curve is shown: the one that was asked for; else the one that saves most, else the first with a curve.</summary>
    /// <param name="filter">Which parts.</param>
    /// <param name="model">Code of the model; null: any.</param>
    /// <param name="partNumber">The part number; null: any.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The row; null: none has a curve.</returns>
    public async Task<ReplacementRow?> ChosenAsync(
        PlanFilter filter, string? model, string? partNumber, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        ReplacementRow[] drawn = [.. Kept(plan, filter, [.. plan.Book.Asked(filter)]).Where(row => row.CostCurve.Count > 0)];
        return Array.Find(drawn, row => (model is not null || partNumber is not null) && Is(row.Model, model) && Is(row.PartNumber, partNumber))
            ?? drawn.Where(row => row.Verdict == PlanVerdict.ReplaceAtAge).MaxBy(Worth) ?? drawn.FirstOrDefault();
    }

    /// <summary>The row of parts of one model, position and part number.</summary>
    /// <param name="book">The parts.</param>
    /// <param name="parts">At least one.</param>
    public static ReplacementRow Row(PlanBook book, IReadOnlyList<PlanPart> parts)
    {
        PlanPart one = parts[0];
        PlanAdvice advice = book.Advice(one);
        PlanGap? why = one.Model.WhyNone ?? one.Costs.Missing;
        double? pace = Pace(parts);
        ReplacementRow row = new(
            one.Unit.Model.Resource.Model, one.Unit.Model.Resource.Name, one.Position.Position, one.Position.Name, one.PartNumber, parts.Count,
            why is null ? advice.Verdict : PlanVerdict.Unknown, string.Empty, FleetLives.Name(one.Model.Clock), pace,
            one.Model.Fitted is { } fit ? WeibullBounds.Shape(fit) : null, one.Costs.Planned, one.Costs.Failure, one.Costs.LockoutHours,
            one.Costs.LockoutHourCost > 0, null, null, null, null, null, null, null, null, [], [], why is null ? null : PlanSentences.Gap(why), null, null);
        row = advice.Found is { } found && one.Model.Life is { } life ? With(row, advice, found, life, pace) : row;
        return row with { Sentence = ReplacementSentences.Row(row, book.Plan.Terms.Currency) };
    }

    /// <summary>What a day adds to the age: the median of some parts; null: not known of any.</summary>
    /// <param name="parts">The parts.</param>
    public static double? Pace(IEnumerable<PlanPart> parts)
    {
        double[] paces = [.. parts.Select(part => part.PerDay).OfType<double>().Where(pace => pace > 0).Order()];
        return paces.Length == 0 ? null : paces[paces.Length / 2];
    }

    private static ReplacementRow With(ReplacementRow row, PlanAdvice advice, ReplacementAdvice found, LifeUncertainty life, double? pace)
    {
        ReplacementPolicy policy = found.Policy;
        bool replaces = advice.Verdict == PlanVerdict.ReplaceAtAge;
        double? perYear = pace * DaysPerYear;
        double? avoided = replaces ? (1 / life.Estimate.Mean) - (life.Estimate.ChanceWithin(0, advice.Age!.Value) / life.Estimate.MeanUpTo(advice.Age.Value)) : null;
        return row with
        {
            Age = replaces ? new Estimate(advice.Age!.Value, found.AgeLow, found.AgeHigh, 0.9, "drawn from the life model's uncertainty") : null,
            AgeDays = replaces ? advice.Age / pace : null,
            FlatFrom = replaces ? policy.FlatFrom : null,
            FlatTo = replaces ? policy.FlatTo : null,
            CostPerYear = advice.CostRate * perYear,
            RunToFailureCostPerYear = policy.RunToFailureCostRate * perYear,
            SavingPerYear = replaces ? (policy.RunToFailureCostRate - advice.CostRate) * perYear : null,
            FailuresAvoidedPerYear = avoided * perYear,
            Sensitivity = advice.Costs is { HaveTrade: true } costs ? Sensitivity(found, life, costs, perYear) : [],
            CostCurve = perYear is { } year
                ? [.. AgeReplacement.Curve(life.Estimate, advice.Costs!, CurvePoints).Select(point => new Dashboard.Planning.CostPoint(point.Age, point.CostRate * year))]
                : [],
            Reason = ReplacementSentences.Reason(found.Reason, policy.SavingShare, found.SavingLow),
            ChanceNoWear = found.ChanceOfNoOptimum,
        };
    }

    private static IReadOnlyList<SensitivityRow> Sensitivity(ReplacementAdvice found, LifeUncertainty life, ReplacementCosts costs, double? perYear)
    {
        SensitivityRow Line(string what, double factor, double? age)
        {
            var other = new ReplacementCosts(costs.Planned, costs.Failure * factor);
            bool replaces = age is not null && found.Policy.Verdict == ReplacementVerdict.ReplaceAtAge && other.HaveTrade;
            double? saving = replaces ? ((other.Failure / life.Estimate.Mean) - AgeReplacement.CostRate(life.Estimate, other, age!.Value)) * perYear : null;
            return new SensitivityRow(what, replaces ? PlanVerdict.ReplaceAtAge : PlanVerdict.RunToFailure, replaces ? age : null, saving);
        }

        return [Line(ReplacementSentences.HalfTheFailureCost, 0.5, found.AgeAtHalfCostRatio), Line(ReplacementSentences.TwiceTheFailureCost, 2, found.AgeAtDoubleCostRatio)];
    }

    private static ReplacementRow[] Kept(PlanNow plan, PlanFilter filter, PlanPart[] asked) => plan.Kept<ReplacementRow[]>(
        (nameof(ReplacementReports), filter),
        () =>
        [
            .. asked.GroupBy(part => (Codes.Key(part.Unit.Model.Resource.Model), Codes.Key(part.Position.Position), Codes.Key(part.PartNumber ?? string.Empty)))
                .Select(group => Row(plan.Book, [.. group])).OrderBy(Key, StringComparer.Ordinal),
        ]);

    private static double? Saved(ReplacementRow row) => row.Verdict == PlanVerdict.ReplaceAtAge && row.SavingPerYear is { } saving && double.IsFinite(saving) ? saving : null;

    // What runs until it fails stands behind all that is replaced in time, and what nothing can be said of stands last.
    private static double? Worth(ReplacementRow row) => row.Verdict switch
    {
        PlanVerdict.ReplaceAtAge => Math.Max(0, (Saved(row) ?? 0) * row.Parts),
        PlanVerdict.RunToFailure => -1,
        _ => null,
    };

    private static bool Is(string? code, string? asked) => asked is null || (code is not null && Codes.Key(code) == Codes.Key(asked));

    private static string Key(ReplacementRow row) => $"{Codes.Key(row.Model)} {Codes.Key(row.Position)} {Codes.Key(row.PartNumber ?? string.Empty)}";
}
