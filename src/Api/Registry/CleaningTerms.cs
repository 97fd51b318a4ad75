using System.Collections.Frozen;
using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Registry;

/// <summary>A rule of the registry with its computed form.</summary>
/// <param name="Entry">The rule as given.</param>
/// <param name="Rule">The rule as Analytics takes it.</param>
public sealed record RuleTerms(RuleEntry Entry, CleaningRule Rule);

/// <summary>A unit of the registry in the terms of the cleaning computation.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Calendar">When its site trades.</param>
/// <param name="Service">Its reporting time, commissioning and periods out of service.</param>
/// <param name="Rules">The rules it is under: of each grade the most particular one, in the order of their grades.</param>
public sealed record UnitTerms(UnitEntry Unit, SiteCalendar Calendar, UnitService Service, IReadOnlyList<RuleTerms> Rules)
{
    private long? _fingerprint;
    private UnitCleaningRun? _begin;

    /// <summary>Tells terms apart: equal for equal rules, calendar and service.</summary>
    public long Fingerprint => _fingerprint ??= TermsFingerprint.Of(this);

    /// <summary>The unit under its rules before any record.</summary>
    public UnitCleaningRun Begin => _begin ??= UnitCleaningRun.Begin(Rules.Select(rule => rule.Rule), Calendar, Service);
}

/// <summary>The registry in the terms of the cleaning computation.</summary>
public sealed class CleaningTerms
{
    private static readonly FrozenDictionary<string, IsoDayOfWeek> Weekdays = new Dictionary<string, IsoDayOfWeek>
    {
        ["mon"] = IsoDayOfWeek.Monday,
        ["tue"] = IsoDayOfWeek.Tuesday,
        ["wed"] = IsoDayOfWeek.Wednesday,
        ["thu"] = IsoDayOfWeek.Thursday,
        ["fri"] = IsoDayOfWeek.Friday,
        ["sat"] = IsoDayOfWeek.Saturday,
        ["sun"] = IsoDayOfWeek.Sunday,
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    private static readonly LocalTimePattern WallTime = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    internal CleaningTerms(IReadOnlyList<UnitEntry> units, IReadOnlyList<SiteEntry> sites, IReadOnlyList<RuleEntry> rules)
    {
        Dictionary<int, SiteCalendar> calendars = sites.ToDictionary(site => site.Id, CalendarOf);
        RuleTerms[] terms = [.. rules.Select(rule => new RuleTerms(rule, RuleOf(rule.Resource)))];
        Units = [.. units.Select(unit => new UnitTerms(unit, calendars[unit.Site.Id], ServiceOf(unit), RulesOf(unit, terms)))];
        ById = Units.ToFrozenDictionary(unit => unit.Unit.Id);
    }

    /// <summary>All units, in the order of their codes.</summary>
    public IReadOnlyList<UnitTerms> Units { get; }

    /// <summary>Units by their number in the database.</summary>
    public FrozenDictionary<int, UnitTerms> ById { get; }

    private static SiteCalendar CalendarOf(SiteEntry site)
    {
        TradingDaysResource? days = site.Resource.TradingDays;
        return new SiteCalendar(
            site.Zone,
            days?.Weekdays.Select(day => Weekdays[day]) ?? Weekdays.Values,
            days is null ? LocalTime.Midnight : WallTime.Parse(days.EndsAt).Value,
            (site.Resource.Closures ?? []).SelectMany(Dates));
    }

    private static IEnumerable<LocalDate> Dates(ClosureResource closure)
    {
        LocalDate last = LocalDate.FromDateOnly(closure.To ?? closure.From);
        for (LocalDate date = LocalDate.FromDateOnly(closure.From); date <= last; date = date.PlusDays(1))
        {
            yield return date;
        }
    }

    private static UnitService ServiceOf(UnitEntry unit) => new(
        Duration.FromHours(unit.Resource.ReportingHours),
        LocalDate.FromDateOnly(unit.Resource.CommissionedOn),
        unit.Resource.DecommissionedOn is { } left ? LocalDate.FromDateOnly(left) : null,
        [.. (unit.Resource.OutOfService ?? []).Select(period => new OutOfServicePeriod(
            Instant.FromDateTimeOffset(period.From),
            period.To is { } to ? Instant.FromDateTimeOffset(to) : null))]);

    private static CleaningRule RuleOf(RuleResource rule) => new(
        rule.Rule,
        rule.Grade,
        rule.EveryTradingDays is { } days ? new EveryTradingDays(days) : new EveryHours(Duration.FromHours(rule.EveryHours!.Value)),
        Duration.FromHours(rule.GraceHours),
        rule.ValidFrom is { } from ? LocalDate.FromDateOnly(from) : null,
        rule.ValidTo is { } to ? LocalDate.FromDateOnly(to) : null);

    private static RuleTerms[] RulesOf(UnitEntry unit, IEnumerable<RuleTerms> rules) =>
    [
        .. rules.Where(rule => rule.Entry.AppliesTo(unit))
            .GroupBy(rule => rule.Rule.Grade)
            .OrderBy(grade => grade.Key)
            .Select(grade => grade.MaxBy(rule => Particularity(rule.Entry.Resource.Scope))!),
    ];

    private static int Particularity(RuleScopeResource scope) =>
        scope.Unit is not null ? 4 : scope.Model is not null ? 3 : scope.Site is not null ? 2 : scope.Operator is not null ? 1 : 0;
}
