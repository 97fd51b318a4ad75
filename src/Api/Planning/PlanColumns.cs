using Washwear.Api.Http;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Columns of planning as CSV.</summary>
internal static class PlanColumns
{
    /// <summary>Forecasts of failures.</summary>
    public static readonly CsvColumn<ForecastRow>[] Failures =
    [
        new("key", row => row.Key),
        new("name", row => row.Name),
        new("parts", row => row.Parts),
        new("parts_without_chance", row => row.PartsWithoutChance),
        new("expected", row => row.Expected),
        new("lower", row => row.Lower),
        new("upper", row => row.Upper),
    ];

    /// <summary>When parts are best replaced.</summary>
    public static readonly CsvColumn<ReplacementRow>[] Replacements =
    [
        new("model", row => row.Model),
        new("model_name", row => row.ModelName),
        new("position", row => row.Position),
        new("position_name", row => row.PositionName),
        new("part_number", row => row.PartNumber),
        new("parts", row => row.Parts),
        new("verdict", row => row.Verdict),
        new("clock", row => row.Clock),
        new("age_per_day", row => row.AgePerDay),
        new("shape", row => row.Shape?.Value),
        new("shape_lower", row => row.Shape?.Lower),
        new("shape_upper", row => row.Shape?.Upper),
        new("planned_cost", row => row.PlannedCost),
        new("failure_cost", row => row.FailureCost),
        new("lockout_hours", row => row.LockoutHours),
        new("lockout_priced", row => row.LockoutPriced),
        new("age", row => row.Age?.Value),
        new("age_lower", row => row.Age?.Lower),
        new("age_upper", row => row.Age?.Upper),
        new("age_days", row => row.AgeDays),
        new("flat_from", row => row.FlatFrom),
        new("flat_to", row => row.FlatTo),
        new("cost_per_year", row => row.CostPerYear),
        new("run_to_failure_cost_per_year", row => row.RunToFailureCostPerYear),
        new("saving_per_year", row => row.SavingPerYear),
        new("failures_avoided_per_year", row => row.FailuresAvoidedPerYear),
        new("sentence", row => row.Sentence),
        new("not_planned", row => row.NotPlanned),
        new("reason", row => row.Reason),
        new("chance_no_wear", row => row.ChanceNoWear),
    ];

    /// <summary>Jobs of planned visits.</summary>
    public static readonly CsvColumn<(PlannedVisit Visit, VisitJob Job)>[] Visits =
    [
        new("date", row => row.Visit.Date),
        new("week_from", row => row.Visit.WeekFrom),
        new("site", row => row.Visit.Site),
        new("site_name", row => row.Visit.SiteName),
        new("operator", row => row.Visit.Operator),
        new("stock_point", row => row.Visit.StockPoint),
        new("visit_minutes", row => row.Visit.Minutes),
        new("visit_cost", row => row.Visit.Cost),
        new("unit", row => row.Job.Unit),
        new("position", row => row.Job.Position),
        new("position_name", row => row.Job.PositionName),
        new("part_number", row => row.Job.PartNumber),
        new("on_hand", row => row.Job.OnHand),
        new("minutes", row => row.Job.Minutes),
        new("part_price", row => row.Job.PartPrice),
        new("due_on", row => row.Job.DueOn),
        new("not_before", row => row.Job.NotBefore),
        new("chance_90_days", row => row.Job.Chance90Days),
        new("decision", row => row.Job.Decision),
        new("why", row => row.Job.Why),
    ];

    /// <summary>Stocks.</summary>
    public static readonly CsvColumn<StockRow>[] Stock =
    [
        new("stock_point", row => row.StockPoint),
        new("stock_point_name", row => row.StockPointName),
        new("part_number", row => row.PartNumber),
        new("part_name", row => row.PartName),
        new("parts", row => row.Parts),
        new("parts_without_chance", row => row.PartsWithoutChance),
        new("supplier", row => row.Supplier),
        new("lead_time_days", row => row.LeadTimeDays),
        new("expected", row => row.Expected),
        new("planned", row => row.Planned),
        new("service_level", row => row.ServiceLevel),
        new("smallest_stock", row => row.SmallestStock),
        new("chance_it_lasts", row => row.ChanceItLasts),
        new("on_hand", row => row.OnHand),
        new("order_now", row => row.OrderNow),
        new("order_cost", row => row.OrderCost),
        new("chance_on_hand_lasts", row => row.ChanceOnHandLasts),
        new("sentence", row => row.Sentence),
    ];

    /// <summary>Kept forecasts.</summary>
    public static readonly CsvColumn<KeptForecastRow>[] Calibration =
    [
        new("quarter", row => row.Quarter),
        new("part_number", row => row.PartNumber),
        new("made_at", row => row.MadeAt),
        new("made_afterwards", row => row.MadeAfterwards),
        new("is_over", row => row.IsOver),
        new("parts", row => row.Parts),
        new("taken_out", row => row.TakenOut),
        new("expected", row => row.Expected),
        new("lower", row => row.Lower),
        new("upper", row => row.Upper),
        new("observed", row => row.Observed),
        new("inside", row => row.Inside),
    ];

    /// <summary>Pairs to swap together.</summary>
    public static readonly CsvColumn<CompanionRow>[] Companions =
    [
        new("model", row => row.Model),
        new("model_name", row => row.ModelName),
        new("opened", row => row.Opened),
        new("opened_name", row => row.OpenedName),
        new("companion", row => row.Companion),
        new("companion_name", row => row.CompanionName),
        new("units", row => row.Units),
        new("clock", row => row.Clock),
        new("swap_past_age", row => row.SwapPastAge),
        new("swap_past_days", row => row.SwapPastDays),
        new("openings_per_year", row => row.OpeningsPerYear),
        new("openings_from", row => row.OpeningsFrom),
        new("shared_minutes", row => row.SharedMinutes),
        new("saving_five_years", row => row.SavingFiveYears),
        new("saving_standard_error", row => row.SavingStandardError),
        new("unwashed_days_saved_five_years", row => row.UnwashedDaysSavedFiveYears),
        new("past_age_now", row => row.PastAgeNow),
        new("sentence", row => row.Sentence),
        new("not_planned", row => row.NotPlanned),
    ];

    /// <summary>Fitted parts.</summary>
    public static readonly CsvColumn<PlannedPartRow>[] Parts =
    [
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator", row => row.Operator),
        new("stock_point", row => row.StockPoint),
        new("position", row => row.Position),
        new("position_name", row => row.PositionName),
        new("part_number", row => row.PartNumber),
        new("part_number_to_order", row => row.PartNumberToOrder),
        new("fitted_at", row => row.FittedAt),
        new("clock", row => row.Clock),
        new("age", row => row.Age),
        new("age_per_day", row => row.AgePerDay),
        new("chance_30_days", row => row.Chance30Days?.Value),
        new("chance_90_days", row => row.Chance90Days?.Value),
        new("chance_90_days_lower", row => row.Chance90Days?.Lower),
        new("chance_90_days_upper", row => row.Chance90Days?.Upper),
        new("chance_180_days", row => row.Chance180Days?.Value),
        new("verdict", row => row.Verdict),
        new("due_on", row => row.DueOn),
        new("extra_cost_per_week", row => row.ExtraCostPerWeek),
        new("decision", row => row.Decision?.Decision),
        new("sentence", row => row.Sentence),
        new("not_planned", row => row.NotPlanned),
    ];

    /// <summary>Decisions.</summary>
    public static readonly CsvColumn<PlanDecisionRow>[] Decisions =
    [
        new("id", row => row.Id),
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("operator", row => row.Operator),
        new("position", row => row.Position),
        new("position_name", row => row.PositionName),
        new("decision", row => row.Decision),
        new("date", row => row.Date),
        new("reason", row => row.Reason),
        new("by", row => row.By),
        new("entered_by", row => row.EnteredBy),
        new("at", row => row.At),
        new("in_force", row => row.InForce),
        new("sentence", row => row.Sentence),
    ];
}
