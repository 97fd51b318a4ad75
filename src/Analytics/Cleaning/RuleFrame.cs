using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A rule applied to one unit: when it holds, when the unit is in service, how its washes fall due.</summary>
internal sealed class RuleFrame
{
    public RuleFrame(CleaningRule rule, SiteCalendar calendar, UnitService service)
    {
        (Rule, Calendar, Service) = (rule, calendar, service);
        OutOfService = new OutOfServiceTimes(calendar, service);
        RuleFrom = rule.ValidFrom is { } from ? calendar.StartOf(from) : null;
        RuleTo = rule.ValidTo is { } to ? calendar.StartOf(to.PlusDays(1)) : null;
        Instant? gone = service.DecommissionedOn is { } d ? calendar.StartOf(d) : null;
        End = RuleTo is { } r && gone is { } g ? Instant.Min(r, g) : RuleTo ?? gone;
        LocalDate? lastInService = service.DecommissionedOn?.PlusDays(-1);
        LastOwedDay = rule.ValidTo is { } v && lastInService is { } l ? LocalDate.Min(v, l) : rule.ValidTo ?? lastInService;
    }

    public CleaningRule Rule { get; }

    public SiteCalendar Calendar { get; }

    public UnitService Service { get; }

    public OutOfServiceTimes OutOfService { get; }

    /// <summary>First instant at which the rule holds; null = always did.</summary>
    public Instant? RuleFrom { get; }

    /// <summary>First instant at which the rule holds no more; null = open.</summary>
    public Instant? RuleTo { get; }

    /// <summary>First instant at which nothing can fall due any more; null = open.</summary>
    public Instant? End { get; }

    /// <summary>Last trading day that can ask for a wash; null = open.</summary>
    public LocalDate? LastOwedDay { get; }

    /// <summary>Begin of service; null when only the first sign of life can tell.</summary>
    public Instant? Commissioned => Service.CommissionedOn is { } on ? Calendar.StartOf(on) : null;

    /// <summary>First trading day that asks for a wash, for a unit in service from <paramref name="serviceStart"/>.</summary>
    public LocalDate FirstOwedDay(Instant serviceStart)
    {
        LocalDate first = Service.CommissionedOn ?? Calendar.DayOf(serviceStart).Date;
        return Rule.ValidFrom is { } from ? LocalDate.Max(first, from) : first;
    }

    public IDueSchedule Schedule(Instant serviceStart) => Rule.Basis switch
    {
        EveryTradingDays every => new TradingDaySchedule(this, every.Days, FirstOwedDay(serviceStart)),
        EveryHours every => new HoursSchedule(this, every.Interval, serviceStart),
        EveryWashes every => new CounterSchedule(this, every.Washes),
        EveryOperatingHours every => new CounterSchedule(this, every.Hours),
        _ => throw new NotSupportedException($"No schedule for {Rule.Basis}."),
    };
}
