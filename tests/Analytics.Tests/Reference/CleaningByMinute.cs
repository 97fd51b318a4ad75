using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Reference;

/// <summary>
/// The rules S1 to S10 and the two extensions (every N trading days, every N hours) a second time: slow, minute by minute, in whole minutes
/// since 1970, from the words of the rules and without any code of the product beyond its input records. Reads lists from end to end for
/// every minute.
/// </summary>
public sealed class CleaningByMinute
{
    private const long Never = long.MaxValue / 4;

    private readonly CleaningScenario _case;
    private readonly List<(LocalDate Date, long Start, long End, bool Open)> _days = [];
    private readonly List<(long From, long To)> _out = [];
    private readonly long[] _heard;
    private readonly Wash[] _tries;
    private readonly long[] _counted;
    private readonly (long At, int Rank, Cause WaitsFor)[] _steps;
    private readonly (long Raised, long Cleared)[] _lockouts;
    private readonly long? _serviceStart;
    private readonly LocalDate _firstOwed = LocalDate.MaxIsoValue;
    private readonly long _end;

    public CleaningByMinute(CleaningScenario scenario)
    {
        _case = scenario;
        UnitHistory h = scenario.History;
        _end = Min(scenario.Window.End);
        MakeDays();
        MakeOutOfService();
        _heard =
        [
            .. h.HeardAt.Select(Min), .. h.Washes.Select(w => Min(w.StartedAt)), .. h.Washes.Select(Decided),
            .. h.Faults.Select(f => Min(f.RaisedAt)), .. h.Faults.Where(f => f.ClearedAt != null).Select(f => Min(f.ClearedAt!.Value)),
        ];
        _lockouts = [.. h.Faults.Where(f => f.LocksOutWashing).Select(f => (Min(f.RaisedAt), f.ClearedAt is { } c ? Min(c) : Never))];
        _tries = [.. h.Washes.OrderBy(Decided).ThenBy(w => w.StartedAt).ThenBy(w => w.Outcome).ThenBy(w => w.Grade)
            .Where(w => w.Grade != ProgrammeGrade.Descale) // the scenarios ask for a wash
            .Where(w => w.Outcome != WashOutcome.Refused || !_lockouts.Any(l => l.Raised <= Decided(w) && Decided(w) < l.Cleared))];
        _counted = [.. h.Washes.Where(Counts).Select(Decided).Where(e => e <= _end).Order()];
        _steps = [.. Steps(h).OrderBy(s => s.At).ThenBy(s => s.Rank)];

        LocalDate? commissioned = h.Service.CommissionedOn;
        _serviceStart = commissioned is { } c ? DayOn(c).Start : _heard.Where(t => t <= _end).Select(t => (long?)t).Min();
        if (_serviceStart is { } start)
        {
            LocalDate first = commissioned ?? _days.First(d => d.Start <= start && start < d.End).Date;
            _firstOwed = scenario.Rule.ValidFrom is { } from && from > first ? from : first;
        }

        Owed = scenario.Rule.Basis is EveryHours hours
            ? OwedByHours(Min(hours.Interval))
            : OwedByDays(((EveryTradingDays)scenario.Rule.Basis).Days);
        foreach (Due o in Owed.Where(o => o.Credited is null && o.Result != ObligationResult.Excused))
        {
            o.Result = Silent(o.Deadline) ? ObligationResult.Unknown : o.Closed is null ? ObligationResult.Missed : ObligationResult.Late;
        }
    }

    /// <summary>All washes that were due, those due after the window too.</summary>
    public IReadOnlyList<Due> Owed { get; }

    public static long Min(Instant at) => (long)(at - NodaConstants.UnixEpoch).TotalMinutes;

    /// <summary>The cause of the minute [t, t+1), from everything at or before t.</summary>
    public Cause CauseOf(long t)
    {
        LocalDate today = _days.First(d => d.Start <= t && t < d.End).Date;
        if (today < (_case.Rule.ValidFrom ?? LocalDate.MinIsoValue) || today > (_case.Rule.ValidTo ?? LocalDate.MaxIsoValue))
        {
            return Cause.NoRule;
        }

        if (OutOfService(t) || !_days.First(d => d.Date == today).Open)
        {
            return OutOfService(t) ? Cause.OutOfService : Cause.SiteClosed;
        }

        if (Silent(t))
        {
            return Cause.Silent;
        }

        Due? oldest = Owed.FirstOrDefault(o =>
            o.Deadline <= t && !(o.Closed <= t) && o.Result != ObligationResult.Unknown && o.Result != ObligationResult.Excused);
        return oldest is null ? Cause.InOrder : OverdueCause(t, oldest.Start);
    }

    private Cause OverdueCause(long t, long periodStart)
    {
        if (_case.History.Visits.Any(v => v.ArrivedAt is { } a && Min(a) <= t && (v.LeftAt is null || t < Min(v.LeftAt.Value))))
        {
            return Cause.BeingWorkedOn;
        }

        (long Raised, long Cleared)[] standing = [.. _lockouts.Where(l => l.Raised <= t && t < l.Cleared)];
        if (standing.Length > 0)
        {
            (long At, int Rank, Cause WaitsFor)[] since = [.. _steps.Where(s => s.At >= standing.Min(l => l.Raised) && s.At <= t)];
            return since.Length == 0 ? Cause.LockoutNoVisitAsked : since[^1].WaitsFor;
        }

        Wash? last = _tries.LastOrDefault(w => Decided(w) <= t);
        if (last is null || Decided(last) < periodStart || Counts(last))
        {
            return Cause.NobodyStarted;
        }

        return last.Outcome == WashOutcome.StoppedByPerson ? Cause.StoppedByPerson
            : last.Outcome == WashOutcome.StoppedByFault ? Cause.StoppedByFault
            : last.Outcome == WashOutcome.Refused ? Cause.LockoutNoVisitAsked
            : Cause.WashDidNotCount;
    }

    /// <summary>S3, S5 with a period of N counted days in place of one day.</summary>
    private List<Due> OwedByDays(int n)
    {
        var counted = _days.Where(d => d.Open && !OutOfService(d.End) && d.Date >= _firstOwed && d.Date <= LastOwed).ToList();
        List<Due> owed = [];
        int next = 0;
        void AddDueBy(long t)
        {
            bool NextBegins() => owed.Count == 0 || owed[^1].DueAt <= t || owed[^1].Credited < owed[^1].DueAt;
            while (next + n <= counted.Count && NextBegins())
            {
                owed.Add(new Due(counted[next + n - 1].Date, counted[next].Start, counted[next + n - 1].End, counted[next + n - 1].End + Grace));
                next += n;
            }
        }

        foreach (long end in _counted)
        {
            AddDueBy(end);
            Due? credit = owed.FirstOrDefault(o => o.Closed is null && o.DueAt <= end && end <= o.Deadline);
            credit ??= owed.FirstOrDefault(o => o.Closed is null && o.Start <= end && end < o.DueAt);
            foreach (Due older in owed.TakeWhile(o => o != credit).Where(o => o.Closed is null && o.Deadline < end))
            {
                older.Closed = end;
            }

            if (credit is not null)
            {
                credit.Credit(end);
                next = end < credit.DueAt ? counted.Count(d => d.Start <= end) : next;
            }
        }

        AddDueBy(_end);
        if (n == 1)
        {
            owed.AddRange(_days.Where(d => d.Open && OutOfService(d.End) && d.Date >= _firstOwed && d.Date <= LastOwed)
                .Select(d => new Due(d.Date, d.Start, d.End, d.End + Grace) { Result = ObligationResult.Excused }));
        }

        return [.. owed.OrderBy(o => o.Deadline)];
    }

    /// <summary>Gap by gap: from one counted wash (or the begin of service) to the next (or for ever).</summary>
    private List<Due> OwedByHours(long interval)
    {
        List<Due> owed = [];
        if (_serviceStart is not { } begin)
        {
            return owed;
        }

        long ruleStart = _case.Rule.ValidFrom is { } from ? DayOn(from).Start : -Never;
        long anchor = begin;
        foreach (long end in _counted.Append(Never))
        {
            long start = anchor;
            bool missed = false;
            long due = FallsDue(Math.Max(anchor + interval, ruleStart));
            for (; due < _end + (4 * 1440); due = FallsDue(due + interval))
            {
                Due wash = new(_days.First(d => d.Start <= due && due < d.End).Date, start, due, due + Grace);
                start = due;
                if (wash.Deadline < end)
                {
                    owed.Add(wash);
                    wash.Closed = end < Never ? end : null;
                    missed = true;
                    continue;
                }

                if (!missed && end >= Math.Max(begin, ruleStart))
                {
                    owed.Add(wash);
                    wash.Credit(end);
                }

                break;
            }

            anchor = Math.Max(begin, end);
        }

        return owed;
    }

    /// <summary>The first minute at or after t on an open day and in service, by trying minute after minute.</summary>
    private long FallsDue(long t)
    {
        for (; t < _days[^1].End; t++)
        {
            (LocalDate Date, long Start, long End, bool Open) day = _days.First(d => d.Start <= t && t < d.End);
            if (day.Date > LastOwed)
            {
                return Never;
            }

            if (day.Open && !OutOfService(t))
            {
                return t;
            }
        }

        return Never;
    }

    private LocalDate LastOwed
    {
        get
        {
            LocalDate byRule = _case.Rule.ValidTo ?? LocalDate.MaxIsoValue;
            LocalDate byUnit = _case.History.Service.DecommissionedOn?.PlusDays(-1) ?? LocalDate.MaxIsoValue;
            return byRule < byUnit ? byRule : byUnit;
        }
    }

    private long Grace => Min(_case.Rule.Grace);

    private static long Min(Duration time) => (long)time.TotalMinutes;

    private static long Decided(Wash w) => Min(w.EndedAt ?? w.StartedAt);

    private static bool Counts(Wash w) => w.Outcome == WashOutcome.Completed && w.EndedAt != null && w.DetergentLeft != true
        && (w.Grade == ProgrammeGrade.Standard || w.Grade == ProgrammeGrade.Intensive); // the scenarios ask for standard washes

    private bool OutOfService(long t) => _out.Any(p => p.From <= t && t < p.To);

    /// <summary>S7. The begin of service counts as heard where it is known; before anything is heard there is nothing but
    /// silence.</summary>
    private bool Silent(long t)
    {
        long last = _heard.Where(h => h <= t).DefaultIfEmpty(-Never).Max();
        if (_case.History.Service.CommissionedOn is { } on)
        {
            last = Math.Max(last, DayOn(on).Start);
        }

        return last == -Never || (_case.History.Service.ReportingTime is { } reporting && t >= last + Min(reporting));
    }

    private static IEnumerable<(long At, int Rank, Cause WaitsFor)> Steps(UnitHistory h)
    {
        foreach (Visit v in h.Visits)
        {
            if (v.AskedAt is { } asked)
            {
                yield return (Min(asked), 0, Cause.LockoutWaitingTechnician);
            }

            if (v.LeftAt is { } left)
            {
                yield return (Min(left), 2, v.Outcome == VisitOutcome.WaitingApproval ? Cause.LockoutWaitingApproval
                    : v.Outcome == VisitOutcome.WaitingPart ? Cause.LockoutWaitingPart : Cause.LockoutNoVisitAsked);
            }
        }

        foreach (Approval a in h.Approvals)
        {
            if (a.AskedAt is { } asked)
            {
                yield return (Min(asked), 3, Cause.LockoutWaitingApproval);
            }

            if (a is { DecidedAt: { } decided, Granted: not null })
            {
                yield return (Min(decided), 4, a.Granted == true ? Cause.LockoutWaitingPart : Cause.LockoutNoVisitAsked);
            }
        }
    }

    private (LocalDate Date, long Start, long End, bool Open) DayOn(LocalDate date) => _days.First(d => d.Date == date);

    private void MakeDays()
    {
        LocalDate first = _case.Window.Start.InZone(_case.Site.Zone).Date.PlusDays(-40);
        for (int i = 0; i < 110; i++)
        {
            LocalDate date = first.PlusDays(i);
            (long start, long end) = (DayStart(date), DayStart(date.PlusDays(1)));
            bool open = _case.Site.TradedFromMonday[(int)date.DayOfWeek - 1] && !_case.Site.Closures.Contains(date) && end > start;
            _days.Add((date, start, end, open));
        }
    }

    /// <summary>Local wall time to UTC by trying the offsets on both sides: the earlier where both fit, the one before the change where
    /// none does.</summary>
    private long DayStart(LocalDate date)
    {
        long wall = (Period.DaysBetween(new LocalDate(1970, 1, 1), date) * 1440L) + _case.Site.DayEndsAtMinute;
        long Offset(long utc) => _case.Site.Zone.GetUtcOffset(NodaConstants.UnixEpoch + Duration.FromMinutes(utc)).Seconds / 60;
        (long before, long after) = (Offset(wall - 2880), Offset(wall + 2880));
        long[] fits = [.. new[] { wall - before, wall - after }.Where(u => u + Offset(u) == wall)];
        return fits.Length > 0 ? fits.Min() : wall - before;
    }

    private void MakeOutOfService()
    {
        UnitService s = _case.History.Service;
        _out.AddRange(s.OutOfService.Select(p => (Min(p.From), p.To is { } to ? Min(to) : Never)));
        if (s.CommissionedOn is { } first)
        {
            _out.Add((-Never, DayOn(first).Start));
        }

        if (s.DecommissionedOn is { } gone)
        {
            _out.Add((DayOn(gone).Start, Never));
        }
    }

    /// <summary>A wash that was due, in minutes.</summary>
    public sealed class Due(LocalDate day, long start, long due, long deadline)
    {
        public LocalDate Day => day;

        public long Start => start;

        public long DueAt => due;

        public long Deadline => deadline;

        public ObligationResult Result { get; set; } = ObligationResult.Missed;

        public long? Credited { get; private set; }

        public long? Closed { get; set; }

        public void Credit(long end) => (Credited, Closed, Result) = (end, end, ObligationResult.OnTime);
    }
}
