using System.Globalization;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>What suppliers, parts, stock points and plan terms must be like.</summary>
internal static class PlanRules
{
    internal const double MostMoney = 1e9;
    private const double MostLeadDays = 365;
    private const double MostHours = 24 * 366;
    private const double MostCrewMinutes = 1e6;
    private const double DaysPerWeek = 7;

    public static void Check(SupplierResource supplier, RuleBook book)
    {
        book.AddressCode("supplier", supplier.Supplier);
        book.Text("name", supplier.Name);
        book.Between("lead_time_days", supplier.LeadTimeDays, 0, MostLeadDays);
        book.Between("lead_time_days_longest", supplier.LeadTimeDaysLongest, 0, MostLeadDays);
        book.InOrder<double>("lead_time_days_longest", supplier.LeadTimeDays, supplier.LeadTimeDaysLongest, "lead_time_days");
    }

    public static void Check(PartResource part, RuleBook book, KnownCodes known)
    {
        book.AddressCode("part_number", part.PartNumber);
        book.Text("name", part.Name);
        book.Known("supplier", part.Supplier, "supplier", code => known.Has("supplier", code));
        book.AboveZero("price", part.Price, MostMoney);
    }

    public static void Check(StockPointResource place, RuleBook book)
    {
        book.AddressCode("stock_point", place.StockPoint);
        book.Text("name", place.Name);
        book.AboveZero("crew_minutes_per_week", place.CrewMinutesPerWeek, MostCrewMinutes);
        book.Between("service_level", place.ServiceLevel, 0.5, 0.9999);
        IReadOnlyList<OnHandResource> onHand = place.OnHand ?? [];
        book.NoneTwice("on_hand", onHand, one => one.PartNumber, "part_number");
        for (int i = 0; i < onHand.Count; i++)
        {
            RuleBook line = book.At("on_hand", i);
            line.Code("part_number", onHand[i].PartNumber);
            line.Between("quantity", onHand[i].Quantity, 0, 100_000);
        }
    }

    public static void Check(PlanTermsResource terms, RuleBook book)
    {
        book.Code("currency", terms.Currency);
        book.Between("lockout_hour_cost", terms.LockoutHourCost, 0, MostMoney);
        book.AboveZero("planned_visit_cost", terms.PlannedVisitCost, MostMoney);
        book.AboveZero("failure_cost", terms.FailureCost, MostMoney);
        book.Between("expected_lockout_hours", terms.ExpectedLockoutHours, 0, MostHours);
        book.Between("tolerance_share", terms.ToleranceShare, 0.0001, 0.5);
        book.Between("horizon_weeks", terms.HorizonWeeks, 4, 104);
        book.Between("service_level", terms.ServiceLevel, 0.5, 0.9999);
        CheapEnough("planned_visit_cost", terms.PlannedVisitCost, terms.FailureCost, book);
    }

    /// <summary>A planned visit that costs as much as a failure would never be worth planning: one of the two is a slip.</summary>
    public static void CheapEnough(string field, double? planned, double? failure, RuleBook book)
    {
        if (planned > 0 && failure > 0 && planned >= failure)
        {
            book.Add(
                field,
                "cheaper_than_failure",
                string.Create(CultureInfo.InvariantCulture, $"A planned visit ({planned}) that costs no less than a failure ({failure}) would never pay."),
                "Mend one of the two: failure_cost is what a failure costs beside the part, planned_visit_cost what a planned visit does.");
        }
    }

    /// <summary>Parts that take longer than the plan looks ahead could never be planned.</summary>
    /// <param name="suppliers">The suppliers.</param>
    /// <param name="horizonWeeks">How far ahead visits are planned.</param>
    /// <param name="field">Field to name for the supplier at a place.</param>
    public static IEnumerable<FieldProblem> TooSlow(IReadOnlyList<SupplierResource> suppliers, int horizonWeeks, Func<int, string> field)
    {
        for (int i = 0; i < suppliers.Count; i++)
        {
            double days = Math.Max(suppliers[i].LeadTimeDays, suppliers[i].LeadTimeDaysLongest ?? 0);
            if (days > horizonWeeks * DaysPerWeek)
            {
                int needed = (int)Math.Ceiling(days / DaysPerWeek);
                yield return new FieldProblem(
                    field(i),
                    "within_horizon",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Supplier '{suppliers[i].Supplier}' takes up to {days} d; the plan looks {horizonWeeks} x 7 d ahead."),
                    FormattableString.Invariant($"Mend the lead time, or put horizon_weeks of {needed} or more in the plan terms first."));
            }
        }
    }
}
