using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>
/// What happened on each trading day of a unit's calendar, under the rule that leads on it: the one of the lowest grade, which asks most often. A
/// wash belongs to the trading day in which it ended, or started where no end is known. A day without a try is judged by the rule's
/// timeline: by the cause at the deadline of the wash that fell due at its end, else by the cause at its end.
/// </summary>
public sealed class WashDays
{
    private readonly UnitTerms _unit;
    private readonly Instant _asOf;
    private readonly ILookup<LocalDate, Wash> _tries;
    private readonly Instant[] _signs;
    private readonly Dictionary<CleaningRule, Judged> _judged = [];

    private WashDays(UnitTerms unit, UnitHistory history, Instant asOf, LocalDate first)
    {
        (_unit, _asOf) = (unit, asOf);
        _tries = history.Washes.Where(wash => wash.DecidedAt <= asOf).ToLookup(wash => unit.Calendar.DayOf(wash.DecidedAt).Date);
        _signs = [.. Signs(history).Where(at => at <= asOf).Order()];
        var window = new Interval(Instant.Min(unit.Calendar.StartOf(first), asOf - Duration.FromMinutes(1)), asOf);
        for (LocalDate date = first; date <= unit.Calendar.DayOf(asOf).Date; date = date.PlusDays(1))
        {
            if (Leading(date) is { } rule && !_judged.ContainsKey(rule))
            {
                CleaningTimeline timeline = CauseTimeline.Compute(rule, unit.Calendar, history, window);
                _judged[rule] = new Judged(rule, timeline.Spans, timeline.Obligations.ToLookup(owed => owed.Day));
            }
        }
    }

    /// <summary>The trading days of a stretch of dates, oldest first.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="history">All its records.</param>
    /// <param name="asOf">The last trading day shown is the one in which this instant lies.</param>
    /// <param name="days">How many trading days, above 0.</param>
    /// <returns>One entry a date.</returns>
    public static IReadOnlyList<WashDay> Of(UnitTerms unit, UnitHistory history, Instant asOf, int days)
    {
        LocalDate last = unit.Calendar.DayOf(asOf).Date;
        WashDays all = new(unit, history, asOf, last.PlusDays(1 - days));
        return [.. Enumerable.Range(0, days).Select(back => all.Day(unit.Calendar.Day(last.PlusDays(back - days + 1))))];
    }

    /// <summary>What a try came to under a grade; null for one that says nothing about it, as a descale about a wash.</summary>
    /// <param name="wash">The try.</param>
    /// <param name="asked">Grade that the rule asks for.</param>
    public static WashDayKind? KindOf(Wash wash, ProgrammeGrade asked) => wash.Outcome switch
    {
        _ when (wash.Grade == ProgrammeGrade.Descale) != (asked == ProgrammeGrade.Descale) => null,
        WashOutcome.Refused => WashDayKind.Refused,
        WashOutcome.StoppedByPerson => WashDayKind.StoppedByPerson,
        WashOutcome.StoppedByFault => WashDayKind.StoppedByFault,
        WashOutcome.Completed when wash.CountsFor(asked) => wash.AttestedBy is null ? WashDayKind.Counted : WashDayKind.CountedByHand,
        WashOutcome.Completed when !wash.Grade.Satisfies(asked) => WashDayKind.LowerGrade,
        WashOutcome.Completed when wash.DetergentLeft == true => WashDayKind.DetergentLeft,
        _ => WashDayKind.OutcomeUnknown,
    };

    private CleaningRule? Leading(LocalDate date) => _unit.RulesOn(date).Select(rule => rule.Rule).FirstOrDefault();

    private WashDay Day(TradingDay day)
    {
        Wash[] washes = [.. _tries[day.Date]];
        Judged? judged = Leading(day.Date) is { } rule ? _judged[rule] : null;
        (WashDayKind kind, string? why) = Judge(day, washes, judged);
        return new WashDay(day.Date.ToDateOnly(), kind, washes.Count(wash => wash.Outcome != WashOutcome.Refused), why ?? WashDayWords.Name(kind));
    }

    private (WashDayKind Kind, string? Why) Judge(TradingDay day, Wash[] washes, Judged? judged)
    {
        ProgrammeGrade asked = judged?.Rule.Grade ?? ProgrammeGrade.Standard;
        var best = washes.Select(wash => (Wash: wash, Kind: KindOf(wash, asked))).Where(one => one.Kind is not null).OrderBy(one => one.Kind)
            .Select(one => (one.Wash, Kind: one.Kind!.Value)).ToArray();
        return best.Length > 0 ? Tried(day, best[0].Wash, best[0].Kind, judged)
            : !InService(day) ? (WashDayKind.OutOfService, WhyOutOfService(day))
            : !day.IsOpen ? (WashDayKind.Closed, null)
            : NotTried(day, judged);
    }

    // What came to nothing on a day that is not over can still be made good.
    private (WashDayKind Kind, string? Why) Tried(TradingDay day, Wash wash, WashDayKind kind, Judged? judged)
    {
        string? why = kind == WashDayKind.LowerGrade ? TooLow(wash, judged) : null;
        return !WashDayWords.IsKept(kind) && IsPending(day, judged)
            ? (WashDayKind.Pending, WashDayWords.SoFar(why ?? WashDayWords.Name(kind)))
            : (kind, why);
    }

    private static string TooLow(Wash wash, Judged? judged) => WashDayWords.TooLow(wash.Grade, judged?.Rule.Grade ?? ProgrammeGrade.Standard);

    // Nobody tried on the day: kept by a wash in its grace, not due, still to come, or missed by a cause.
    private (WashDayKind Kind, string? Why) NotTried(TradingDay day, Judged? judged)
    {
        if (judged is null)
        {
            return Silent(day) ? (WashDayKind.Silent, null) : (WashDayKind.NotDue, WashDayWords.NoRule);
        }

        if (judged.Owed[day.Date].FirstOrDefault() is { } owed)
        {
            return owed.Result switch
            {
                ObligationResult.OnTime => (WashDayKind.Counted, WashDayWords.WashedInGrace),
                ObligationResult.Unknown => (WashDayKind.Silent, null),
                ObligationResult.Excused => (WashDayKind.OutOfService, null),
                _ => Missed(judged.CauseAt(owed.Deadline)),
            };
        }

        Cause cause = judged.CauseAt(Instant.Min(day.End, _asOf));
        return cause == Cause.Silent || cause.IsOverdue() ? Missed(cause)
            : IsPending(day, judged) ? (WashDayKind.Pending, null)
            : (WashDayKind.NotDue, null);
    }

    // A rule for every trading day owes one on this day; its deadline has not passed, or it would be among those judged.
    private bool IsPending(TradingDay day, Judged? judged) =>
        judged?.Rule is { Basis: EveryTradingDays { Days: 1 } } rule && day.End + rule.Grace > _asOf;

    private static (WashDayKind Kind, string? Why) Missed(Cause cause) => cause switch
    {
        Cause.LockoutNoVisitAsked or Cause.LockoutWaitingTechnician or Cause.LockoutWaitingApproval or Cause.LockoutWaitingPart
            or Cause.BeingWorkedOn => (WashDayKind.LockedOut, CleaningWords.Name(cause)),
        Cause.Silent => (WashDayKind.Silent, null),
        _ => (WashDayKind.NobodyStarted, null),
    };

    // One that has not come yet, or has left, is not out of service for a while.
    private string? WhyOutOfService(TradingDay day) =>
        day.Date < _unit.Service.CommissionedOn ? WashDayWords.NotYetThere
        : day.Date >= _unit.Service.DecommissionedOn ? WashDayWords.NoLongerThere
        : null;

    private bool InService(TradingDay day) =>
        (_unit.Service.CommissionedOn is not { } from || day.Date >= from)
        && (_unit.Service.DecommissionedOn is not { } to || day.Date < to)
        && !_unit.Service.OutOfService.Any(period => period.From < day.End && (period.To ?? Instant.MaxValue) >= day.End);

    // Silent: nothing heard on the day, and nothing within the reporting time before its end.
    private bool Silent(TradingDay day)
    {
        if (_unit.Service.ReportingTime is not { } reporting)
        {
            return false;
        }

        Instant end = Instant.Min(day.End, _asOf);
        int next = Array.BinarySearch(_signs, end);
        int before = next < 0 ? ~next - 1 : next;
        return before < 0 || _signs[before] + reporting <= end;
    }

    private static IEnumerable<Instant> Signs(UnitHistory history) =>
    [
        .. history.HeardAt,
        .. history.Washes.Select(wash => wash.StartedAt),
        .. history.Washes.Select(wash => wash.DecidedAt),
        .. history.Faults.Select(fault => fault.RaisedAt),
        .. history.Faults.Where(fault => fault.ClearedAt is not null).Select(fault => fault.ClearedAt!.Value),
    ];

    /// <summary>What a rule says about the days.</summary>
    private sealed record Judged(CleaningRule Rule, IReadOnlyList<CauseSpan> Spans, ILookup<LocalDate, Obligation> Owed)
    {
        public Cause CauseAt(Instant at)
        {
            int low = 0;
            for (int high = Spans.Count - 1; low < high;)
            {
                int middle = (low + high + 1) / 2;
                (low, high) = Spans[middle].From <= at ? (middle, high) : (low, middle - 1);
            }

            return Spans[low].Cause;
        }
    }
}
