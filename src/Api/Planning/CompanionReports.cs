using Washwear.Analytics.Planning;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Assembles what to swap together.</summary>
/// <param name="plans">The plan.</param>
internal sealed class CompanionReports(FleetPlan plans)
{
    /// <summary>Columns that the page sorts by; what saves most stands first where none is named.</summary>
    public static IReadOnlyList<SortColumn<CompanionRow>> Columns { get; } =
    [
        new("opened", row => row.OpenedName), new(Usual, row => row.SavingFiveYears is { } saving && double.IsFinite(saving) ? saving : null),
        new("past_age", row => row.PastAgeNow),
    ];

    /// <summary>The column of the usual order.</summary>
    public const string Usual = "saved";

    /// <summary>The rows of a page.</summary>
    /// <param name="filter">Which parts; a position asks for the one that is opened or that is swapped along.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<CompanionsReport> AssembleAsync(PlanFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        PlanPart[] asked = [.. plan.Book.Asked(filter with { Position = null })];
        HashSet<string> models = new(asked.Select(part => part.Unit.Model.Resource.Model), StringComparer.OrdinalIgnoreCase);
        CompanionRow[] rows =
        [
            .. plan.Companions.Where(row => models.Contains(row.Model))
                .Where(row => filter.Position is not { } position || Same(position, row.Opened) || Same(position, row.Companion)),
        ];
        PageOf<CompanionRow> taken = page.SortBy is null ? Paging.TakeSorted(rows, Key, page) : Sorting.Take(rows, Columns, page);
        return new CompanionsReport(
            PlanBasis.Of(
                plan, asked, PlanMethod.Companions, PlanDoubt.PairByItself, PlanDoubt.UnwashedDays),
            CompanionSentences.Finding(rows, plan.Companions.Count), plan.Book.Plan.Terms.Currency, taken.Items, taken.Next);
    }

    /// <summary>Sort key of a row.</summary>
    /// <param name="row">The row.</param>
    public static string Key(CompanionRow row) => $"{Codes.Key(row.Model)} {Codes.Key(row.Opened)} {Codes.Key(row.Companion)}";

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}

/// <summary>A pair of positions, with or without its words.</summary>
/// <param name="Row">The pair.</param>
/// <param name="Gap">Why nothing can be said; null: something can.</param>
internal sealed record CompanionPair(CompanionRow Row, PlanGap? Gap);

/// <summary>Works out all pairs of a plan.</summary>
internal static class CompanionPairs
{
    private const double FiveYearsDays = 5 * 365.25;
    private const double HoursPerDay = 24;
    private const double DaysPerYear = 365.25;
    private const int Runs = 4000;

    /// <summary>Every pair of positions that a model calls companions, without words, in the order of their keys.</summary>
    /// <param name="book">The parts.</param>
    public static IReadOnlyList<CompanionPair> Of(PlanBook book)
    {
        ILookup<string, PlanPart> byModel = book.Parts.ToLookup(part => Codes.Key(part.Unit.Model.Resource.Model));
        return
        [
            .. book.Registry.ModelList
                .SelectMany(model => model.Resource.Positions.SelectMany(opened => (opened.Companions ?? []).Select(code => (model, opened, code))))
                .AsParallel()
                .Select(pair => Row(book, pair.model, pair.opened, pair.model.Positions[pair.code], byModel[Codes.Key(pair.model.Resource.Model)]))
                .AsSequential().OrderBy(pair => CompanionReports.Key(pair.Row), StringComparer.Ordinal),
        ];
    }

    private static CompanionPair Row(PlanBook book, ModelEntry model, PositionResource opened, PositionResource companion, IEnumerable<PlanPart> ofModel)
    {
        PlanPart[] openers = [.. At(ofModel, opened)];
        PlanPart[] companions = [.. At(ofModel, companion)];
        (int openings, double years) = book.Openings.Of(model.Resource.Model, opened.Position);
        double? perYear = years > 0 ? openings / years : null;
        var row = new CompanionRow(
            model.Resource.Model, model.Resource.Name, opened.Position, opened.Name, companion.Position, companion.Name, companions.Length,
            companions.Length == 0 ? null : FleetLives.Name(companions[0].Model.Clock), null, null, perYear,
            string.Empty, companion.ReplaceMinutes, null, null, null, 0, string.Empty, null);
        return WhyNot(row, openers, companions) is { } gap ? new CompanionPair(row, gap) : new CompanionPair(Reckoned(row, openers, companions), null);
    }

    /// <summary>A pair with its words, which each reader has in his own way.</summary>
    /// <param name="book">The parts.</param>
    /// <param name="pair">The pair.</param>
    public static CompanionRow Worded(PlanBook book, CompanionPair pair)
    {
        (int openings, double years) = book.Openings.Of(pair.Row.Model, pair.Row.Opened);
        CompanionRow row = pair.Row with
        {
            OpeningsFrom = CompanionSentences.OpeningsFrom(openings, years),
            NotPlanned = pair.Gap is { } gap ? PlanSentences.Gap(gap) : null,
        };
        return row with { Sentence = CompanionSentences.Row(row, book.Plan.Terms.Currency) };
    }

    private static IEnumerable<PlanPart> At(IEnumerable<PlanPart> parts, PositionResource position) =>
        parts.Where(part => string.Equals(part.Position.Position, position.Position, StringComparison.OrdinalIgnoreCase));

    private static PlanGap? WhyNot(CompanionRow row, PlanPart[] openers, PlanPart[] companions) =>
        openers.Length == 0 || companions.Length == 0 ? new PlanGap(PlanGapKind.NoParts)
        : openers[0].Model.WhyNone ?? companions[0].Model.WhyNone ?? companions[0].Costs.Missing
            ?? (row.OpeningsPerYear is not > 0 ? new PlanGap(PlanGapKind.NoOpening) : null)
            ?? (ReplacementReports.Pace(openers) is null || ReplacementReports.Pace(companions) is null ? new PlanGap(PlanGapKind.NoPace) : null);

    // Both clocks are turned into days at the usual pace, so that openings and ages can be held against each other.
    private static CompanionRow Reckoned(CompanionRow row, PlanPart[] openers, PlanPart[] companions)
    {
        // Where the records do not show that it wears, an age would be chance: it is left in.
        if (companions[0].Model.Life!.ShapeLower <= 1)
        {
            return row;
        }

        double pace = ReplacementReports.Pace(companions)!.Value;
        PlanCosts costs = companions[0].Costs;
        WeibullLife companion = InDays(companions);
        double damage = costs.LockoutHours * costs.LockoutHourCost;
        OpportunityPolicy policy = OpportunityReplacement.Find(
            companion, new OpportunityCosts(costs.PartPrice!.Value, costs.Failure!.Value), row.OpeningsPerYear!.Value / DaysPerYear);
        if (policy.Limit is not { } limit)
        {
            return row;
        }

        row = row with { SwapPastAge = limit * pace, SwapPastDays = limit };

        CompanionSaving saving = CompanionSimulation.Run(
            new CompanionCase(
                InDays(openers), MedianAgeDays(openers), companion, MedianAgeDays(companions), costs.FailureVisit!.Value, costs.PartPrice.Value, damage,
                costs.LockoutHours / HoursPerDay, FiveYearsDays),
            limit,
            Runs);
        return row with
        {
            SavingFiveYears = saving.Saving,
            SavingStandardError = saving.SavingStandardError,
            UnwashedDaysSavedFiveYears = saving.UnwashedDaysSaved,
            PastAgeNow = companions.Count(part => part.Age >= limit * pace),
        };
    }

    private static WeibullLife InDays(PlanPart[] parts)
    {
        WeibullLife life = parts[0].Model.Life!.Estimate;
        return new WeibullLife(life.Shape, life.Scale / ReplacementReports.Pace(parts)!.Value);
    }

    private static double MedianAgeDays(PlanPart[] parts)
    {
        double[] ages = [.. parts.Where(part => part.NoChance is null).Select(part => part.Age!.Value / part.PerDay!.Value).Order()];
        return ages.Length == 0 ? 0 : ages[ages.Length / 2];
    }
}
