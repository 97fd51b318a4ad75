using System.Collections.Frozen;
using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Registry;

/// <summary>Days on which a rule of the registry holds for a unit, with its computed form.</summary>
/// <param name="Entry">The rule as given.</param>
/// <param name="Rule">The rule as Analytics takes it, its validity cut to those days.</param>
public sealed record RuleTerms(RuleEntry Entry, CleaningRule Rule)
{
    /// <summary>The code as it is compared.</summary>
    public string CodeKey { get; } = Codes.Key(Rule.Code);
}

/// <summary>A unit of the registry in the terms of the cleaning computation.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Calendar">When its site trades.</param>
/// <param name="Service">Its reporting time, commissioning and periods out of service.</param>
/// <param name="Rules">The rules it is or was under, in the order of their grades and then of their days. A rule that another one interrupts
/// comes twice. For one grade the days never overlap; on days that none of them names, nothing of that grade is asked for.</param>
public sealed record UnitTerms(UnitEntry Unit, SiteCalendar Calendar, UnitService Service, IReadOnlyList<RuleTerms> Rules)
{
    private long? _fingerprint;
    private UnitCleaningRun? _begin;

    /// <summary>The asset tag as it is compared.</summary>
    public string CodeKey { get; } = Codes.Key(Unit.Resource.Unit);

    /// <summary>From its commissioning to its decommissioning, open where these are not known.</summary>
    public Interval InService { get; } = new(
        Service.CommissionedOn is { } begins ? Calendar.StartOf(begins) : null,
        Service.DecommissionedOn is { } ends ? Calendar.StartOf(ends) : null);

    /// <summary>Tells terms apart: equal for equal rules, calendar and service.</summary>
    public long Fingerprint => _fingerprint ??= TermsFingerprint.Of(this);

    /// <summary>The unit under its rules before any record.</summary>
    public UnitCleaningRun Begin => _begin ??= UnitCleaningRun.Begin(Rules.Select(rule => rule.Rule), Calendar, Service);

    /// <summary>The rules that hold on a trading day, at most one a grade, in the order of their grades.</summary>
    /// <param name="day">The trading day.</param>
    public IEnumerable<RuleTerms> RulesOn(LocalDate day) =>
        Rules.Where(rule => !(day < rule.Rule.ValidFrom) && !(day > rule.Rule.ValidTo));

    /// <summary>Whether a rule has a say about a window: it holds in it, or a deadline of it may still lie in it.</summary>
    /// <param name="rule">One of the rules.</param>
    /// <param name="window">The window, with both ends.</param>
    public bool SpeaksOf(CleaningRule rule, Interval window) =>
        (rule.ValidFrom is not { } from || Calendar.StartOf(from) < window.End)
        && (rule.ValidTo is not { } to || Calendar.StartOf(to.PlusDays(1)) + rule.Grace > window.Start);

    /// <summary>The day on which the unit is commissioned, where that is still to come; null: it is there, or nobody said when it came.</summary>
    /// <param name="at">The instant.</param>
    public DateOnly? ComesLater(Instant at) =>
        Service.CommissionedOn is { } first && at < Calendar.StartOf(first) ? first.ToDateOnly() : null;

    /// <summary>Time of a window that a rule holds and in which the unit had not been commissioned yet.</summary>
    /// <param name="rule">One of the rules.</param>
    /// <param name="window">The window, with both ends.</param>
    public Duration NotYetThere(CleaningRule rule, Interval window)
    {
        if (!InService.HasStart || InService.Start <= window.Start)
        {
            return Duration.Zero;
        }

        Instant from = rule.ValidFrom is { } first ? Instant.Max(window.Start, Calendar.StartOf(first)) : window.Start;
        Instant until = Instant.Min(window.End, InService.Start);
        until = rule.ValidTo is { } last ? Instant.Min(until, Calendar.StartOf(last.PlusDays(1))) : until;
        return until > from ? until - from : Duration.Zero;
    }
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

    internal CleaningTerms(
        IReadOnlyList<UnitEntry> units, IReadOnlyList<SiteEntry> sites, IReadOnlyList<RuleEntry> rules, IReadOnlyList<RuleVersionEntry> ruleVersions)
    {
        Dictionary<int, SiteCalendar> calendars = sites.ToDictionary(site => site.Id, CalendarOf);
        ILookup<int, RuleVersionEntry> earlier = ruleVersions.ToLookup(version => version.RuleId);
        RulesInTerms terms = new(rules.SelectMany(rule => RuleVersions.Of(rule, earlier[rule.Id])));
        Units = [.. units.Select(unit => new UnitTerms(unit, calendars[unit.Site.Id], ServiceOf(unit), terms.Of(unit)))];
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
}
