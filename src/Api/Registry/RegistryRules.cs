using System.Globalization;
using NodaTime;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>What a resource must be like before it may enter the registry.</summary>
public static class RegistryRules
{
    internal const double MostHours = 366 * 24;
    private static readonly DateOnly Earliest = new(1950, 1, 1);
    private static readonly DateOnly Latest = new(2199, 12, 31);
    private static readonly string[] Weekdays = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

    /// <summary>Checks one resource.</summary>
    /// <param name="resource">A resource of the registry, of the right shape.</param>
    /// <param name="known">Codes that it may refer to.</param>
    /// <param name="path">Where it stands in what was sent; empty: the whole.</param>
    /// <returns>What is wrong; empty: it may enter.</returns>
    public static IReadOnlyList<FieldProblem> Check(object resource, KnownCodes known, string path = "")
    {
        var problems = new List<FieldProblem>();
        var book = new RuleBook(path, problems);
        switch (resource)
        {
            case OperatorResource kitchenOperator:
                book.AddressCode("operator", kitchenOperator.Operator);
                book.Text("name", kitchenOperator.Name);
                break;
            case SiteResource site:
                CheckSite(site, book, known);
                break;
            case ModelResource model:
                ModelRules.Check(model, book);
                break;
            case UnitResource unit:
                CheckUnit(unit, book, known);
                break;
            case RuleResource rule:
                CleaningRuleRules.Check(rule, book, known);
                break;
            case SupplierResource supplier:
                PlanRules.Check(supplier, book);
                break;
            case PartResource part:
                PlanRules.Check(part, book, known);
                break;
            case StockPointResource place:
                PlanRules.Check(place, book);
                break;
            case PlanTermsResource terms:
                PlanRules.Check(terms, book);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(resource), resource.GetType(), "This is no resource of the registry.");
        }

        return problems;
    }

    /// <summary>Checks a whole document; what it holds may refer to one another and to what is stored.</summary>
    /// <param name="document">The document, of the right shape.</param>
    /// <param name="stored">Codes that are stored.</param>
    /// <returns>What is wrong; empty: it may enter.</returns>
    public static IReadOnlyList<FieldProblem> Check(RegistryDocument document, KnownCodes stored)
    {
        stored.AddAll(document);
        List<FieldProblem> problems = [];
        CheckAll(RegistryKinds.Operators, document.Operators, stored, problems);
        CheckAll(RegistryKinds.Sites, document.Sites, stored, problems);
        CheckAll(RegistryKinds.Models, document.Models, stored, problems);
        CheckAll(RegistryKinds.Units, document.Units, stored, problems);
        CheckAll(RegistryKinds.Rules, document.Rules, stored, problems);
        CheckAll(RegistryKinds.Suppliers, document.Suppliers ?? [], stored, problems);
        CheckAll(RegistryKinds.Parts, document.Parts ?? [], stored, problems);
        CheckAll(RegistryKinds.StockPoints, document.StockPoints ?? [], stored, problems);
        if (document.PlanTerms is { } terms)
        {
            problems.AddRange(Check(terms, stored, "plan_terms"));
        }

        for (int i = 0; i < (document.RuleVersions?.Count ?? 0); i++)
        {
            RuleResource rule = document.RuleVersions![i].Rule;
            string path = FormattableString.Invariant($"rule_versions[{i}].rule");
            problems.AddRange(Check(rule, stored, path));
            CheckDate(new RuleBook(FormattableString.Invariant($"rule_versions[{i}]"), problems), "until", document.RuleVersions[i].Until);
            new RuleBook(path, problems).Known(
                "rule", rule.Rule, "rule", code => document.Rules.Any(one => Codes.Key(one.Rule) == Codes.Key(code)));
        }

        return problems;
    }

    private static void CheckAll<T>(RegistryKind<T> kind, IReadOnlyList<T> resources, KnownCodes known, List<FieldProblem> problems)
    {
        new RuleBook(string.Empty, problems).NoneTwice(kind.Plural, resources, kind.Code, kind.Name);
        for (int i = 0; i < resources.Count; i++)
        {
            problems.AddRange(Check(resources[i]!, known, FormattableString.Invariant($"{kind.Plural}[{i}]")));
        }
    }

    private static void CheckSite(SiteResource site, RuleBook book, KnownCodes known)
    {
        book.AddressCode("site", site.Site);
        book.Known("operator", site.Operator, "operator", code => known.Has("operator", code));
        book.Text("name", site.Name);
        if (!DateTimeZoneProviders.Tzdb.Ids.Contains(site.TimeZone))
        {
            book.Add(
                "time_zone",
                "time_zone",
                $"There is no time zone '{site.TimeZone}' in the IANA database.",
                DateTimeZoneProviders.Tzdb.Ids.FirstOrDefault(id => string.Equals(id, site.TimeZone.Trim(), StringComparison.OrdinalIgnoreCase)) is { } meant
                    ? $"Write it as '{meant}'."
                    : "Give a name such as Europe/Vienna, in its exact spelling; an offset such as UTC+2 knows no daylight-saving time.");
        }

        book.Text("region", site.Region);
        book.Text("stock_point", site.StockPoint);
        book.Between("water_hardness_mg_per_l", site.WaterHardnessMgPerL, 0, 2000);
        CheckTradingDays(site.TradingDays, book.In("trading_days"));
        for (int i = 0; i < (site.Closures?.Count ?? 0); i++)
        {
            RuleBook closure = book.At("closures", i);
            closure.InOrder<DateOnly>("to", site.Closures![i].From, site.Closures[i].To, "from");
            CheckDate(closure, "from", site.Closures[i].From);
            CheckDate(closure, "to", site.Closures[i].To);
            closure.Text("reason", site.Closures[i].Reason);
        }
    }

    private static void CheckTradingDays(TradingDaysResource? days, RuleBook book)
    {
        if (days is null)
        {
            return;
        }

        if (days.Weekdays.Count == 0)
        {
            book.Add("weekdays", "required", "A site that never trades needs no cleaning.", "Name at least one weekday.");
        }

        book.NoneTwice("weekdays", days.Weekdays, day => day, string.Empty);
        for (int i = 0; i < days.Weekdays.Count; i++)
        {
            book.OneOf(FormattableString.Invariant($"weekdays[{i}]"), days.Weekdays[i], Weekdays);
        }

        if (!TimeOnly.TryParseExact(days.EndsAt, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out _))
        {
            book.Add(
                "ends_at",
                "time",
                $"'{days.EndsAt}' is not a time of day.",
                "Give hours and minutes from 00:00 to 23:59; a trading day that ends two hours after midnight ends at 02:00, one at midnight at 00:00.");
        }
    }

    private static void CheckUnit(UnitResource unit, RuleBook book, KnownCodes known)
    {
        book.AddressCode("unit", unit.Unit);
        book.Known("site", unit.Site, "site", code => known.Has("site", code));
        book.Known("model", unit.Model, "model", code => known.Has("model", code));
        book.Code("serial", unit.Serial);
        CheckDate(book, "commissioned_on", unit.CommissionedOn);
        CheckDate(book, "decommissioned_on", unit.DecommissionedOn);
        book.InOrder<DateOnly>("decommissioned_on", unit.CommissionedOn, unit.DecommissionedOn, "commissioned_on");
        book.AboveZero("reporting_hours", unit.ReportingHours, MostHours);
        for (int i = 0; i < (unit.OutOfService?.Count ?? 0); i++)
        {
            OutOfServiceResource period = unit.OutOfService![i];
            RuleBook place = book.At("out_of_service", i);
            CheckDate(place, "from", DateOnly.FromDateTime(period.From.UtcDateTime));
            CheckDate(place, "to", period.To is { } to ? DateOnly.FromDateTime(to.UtcDateTime) : null);
            place.InOrder<DateTimeOffset>("to", period.From, period.To, "from");
            place.Text("reason", period.Reason);
        }
    }

    internal static void CheckDate(RuleBook book, string field, DateOnly? date)
    {
        if (date is { } day && (day < Earliest || day > Latest))
        {
            book.Add(field, "range", FormattableString.Invariant($"{day:yyyy-MM-dd} lies outside 1950 to 2199."), "Mend the year.");
        }
    }
}
