using Washwear.Analytics.PartLife;
using Washwear.Analytics.Planning;

namespace Washwear.Benchmarks.Planning;

/// <summary>What happened since the count was begun.</summary>
internal readonly record struct PlanTally(int Failures, int Visits, int EarlySwaps, double Cost)
{
    public PlanTally Since(PlanTally before) =>
        new(Failures - before.Failures, Visits - before.Visits, EarlySwaps - before.EarlySwaps, Cost - before.Cost);
}

/// <summary>
/// A fleet that is followed day by day. The life of each physical part is fixed by seed, unit, position and ordinal: whatever the rule, the same
/// part has the same life. Units were new up to four years before day 0, from which on there are records; fitting days are known.
/// </summary>
internal sealed class FollowedFleet
{
    private const double ToleranceDays = 28;
    private const double OldestUnit = 1460;
    private const double YearlyDays = 365;
    private const double TooYoungForYearly = 90;

    private readonly PlanScenario _scenario;
    private readonly int _seed;
    private readonly InPlace[,] _parts;
    private readonly double[] _rates;
    private readonly List<Ended> _ended;

    public FollowedFleet(PlanScenario scenario, int seed)
    {
        (_scenario, _seed) = (scenario, seed);
        _parts = new InPlace[scenario.Units, scenario.Lives.Count];
        _rates = [.. Enumerable.Range(0, scenario.Units).Select(unit => scenario.OwnRates ? 0.5 + Uniform(unit, -1, 0) : 1)];
        _ended = [];
        for (int unit = 0; unit < scenario.Units; unit++)
        {
            double built = -OldestUnit * Uniform(unit, -2, 0);
            for (int position = 0; position < Positions; position++)
            {
                _parts[unit, position] = Fit(unit, position, built, 0);
                while (FailsOn(unit, position) < 0)
                {
                    _parts[unit, position] = Fit(unit, position, FailsOn(unit, position), _parts[unit, position].Ordinal + 1);
                }
            }
        }
    }

    private FollowedFleet(FollowedFleet other)
    {
        (_scenario, _seed, _rates) = (other._scenario, other._seed, other._rates);
        _parts = (InPlace[,])other._parts.Clone();
        _ended = [.. other._ended];
        (Day, Tally) = (other.Day, other.Tally);
    }

    public double Day { get; private set; }

    public PlanTally Tally { get; private set; }

    private int Positions => _scenario.Lives.Count;

    public FollowedFleet Copy() => new(this);

    /// <summary>Age of each working part, on the clock, with what is to come: whether it would fail within some days if left alone.</summary>
    public IEnumerable<(int Position, double Age, double FurtherClock, bool Fails)> Working(double days)
    {
        for (int unit = 0; unit < _scenario.Units; unit++)
        {
            for (int position = 0; position < Positions; position++)
            {
                yield return (position, Age(unit, position, Day), days * _rates[unit], FailsOn(unit, position) < Day + days);
            }
        }
    }

    /// <summary>Lives at a position as the records since day 0 show them.</summary>
    public Lives Records(int position)
    {
        var builder = new LivesBuilder("clock");
        foreach (Ended one in _ended.Where(e => e.Position == position))
        {
            _ = one.Failed ? builder.FailedAt(one.Age, one.EntryAge) : builder.SwappedEarlyAt(one.Age, one.EntryAge);
        }

        for (int unit = 0; unit < _scenario.Units; unit++)
        {
            double age = Age(unit, position, Day), entry = EntryAge(unit, position);
            if (age > entry)
            {
                builder.StillRunningAt(age, entry);
            }
        }

        return builder.Build();
    }

    /// <summary>Visits to a unit per unit of the clock that are made for another position, over the last two years.</summary>
    public double OtherOpenings(int position)
    {
        double from = Math.Max(0, Day - 730);
        return _ended.Count(e => e.Position != position && e.MadeTheVisit && e.Day >= from) / ((Day - from) * _rates.Sum());
    }

    /// <summary>Follows rules up to a day.</summary>
    /// <param name="until">The day.</param>
    /// <param name="rules">One a position.</param>
    /// <param name="yearly">Whether each unit is visited once a year and all its parts older than 90 days are swapped, instead.</param>
    public void Follow(double until, IReadOnlyList<SwapRule> rules, bool yearly = false)
    {
        for (int unit = 0; unit < _scenario.Units; unit++)
        {
            double now = Day;
            while (true)
            {
                (double day, int position, bool failed) = Next(unit, now, rules);
                double service = yearly ? NextYearly(unit, now) : double.PositiveInfinity;
                if (Math.Min(day, service) >= until)
                {
                    break;
                }

                now = Math.Min(day, service);
                if (service < day)
                {
                    Service(unit, now);
                }
                else
                {
                    Visit(unit, position, now, failed, rules);
                }
            }
        }

        Day = until;
    }

    private (double Day, int Position, bool Failed) Next(int unit, double now, IReadOnlyList<SwapRule> rules)
    {
        (double Day, int Position, bool Failed) next = (double.PositiveInfinity, 0, false);
        for (int position = 0; position < Positions; position++)
        {
            double fails = FailsOn(unit, position), due = Math.Max(now, DueOn(unit, position, rules[position]));
            next = Math.Min(fails, due) < next.Day ? (Math.Min(fails, due), position, fails <= due) : next;
        }

        return next;
    }

    private void Visit(int unit, int position, double day, bool failed, IReadOnlyList<SwapRule> rules)
    {
        ReplacementCosts costs = _scenario.Costs;
        Count(new PlanTally(failed ? 1 : 0, 1, failed ? 0 : 1, failed ? costs.Failure : costs.Planned));
        End(unit, position, day, failed, madeTheVisit: true);
        for (int other = 0; other < Positions; other++)
        {
            bool wanted = Age(unit, other, day) >= rules[other].CompanionAge || DueOn(unit, other, rules[other]) <= day + ToleranceDays;
            if (other != position && wanted)
            {
                SwapMeanwhile(unit, other, day);
            }
        }
    }

    private void Service(int unit, double day)
    {
        int[] old = [.. Enumerable.Range(0, Positions).Where(position => day - _parts[unit, position].FittedOn > TooYoungForYearly)];
        Count(new PlanTally(0, 1, 0, old.Length == 0 ? PlanScenario.Visit : PlanScenario.Visit - PlanScenario.Minutes));
        foreach (int position in old)
        {
            SwapMeanwhile(unit, position, day);
        }
    }

    private void SwapMeanwhile(int unit, int position, double day)
    {
        Count(new PlanTally(0, 0, 1, PlanScenario.Part + PlanScenario.Minutes));
        End(unit, position, day, failed: false, madeTheVisit: false);
    }

    private void Count(PlanTally more) => Tally = new(
        Tally.Failures + more.Failures, Tally.Visits + more.Visits, Tally.EarlySwaps + more.EarlySwaps, Tally.Cost + more.Cost);

    private void End(int unit, int position, double day, bool failed, bool madeTheVisit)
    {
        double age = Age(unit, position, day), entry = EntryAge(unit, position);
        if (age > entry)
        {
            _ended.Add(new Ended(position, entry, age, failed, madeTheVisit, day));
        }

        _parts[unit, position] = Fit(unit, position, day, _parts[unit, position].Ordinal + 1);
    }

    /// <summary>Each unit has its own day of the year; the hair keeps a day from being its own next one by rounding.</summary>
    private double NextYearly(int unit, double now)
    {
        double phase = YearlyDays * Uniform(unit, -3, 0);
        return phase + (YearlyDays * (Math.Floor(((now - phase) / YearlyDays) + 1e-9) + 1));
    }

    private double DueOn(int unit, int position, SwapRule rule) => _parts[unit, position].FittedOn + (rule.Age / _rates[unit]);

    private double FailsOn(int unit, int position) => _parts[unit, position].FittedOn + (_parts[unit, position].Life / _rates[unit]);

    private double Age(int unit, int position, double day) => (day - _parts[unit, position].FittedOn) * _rates[unit];

    /// <summary>Records begin on day 0.</summary>
    private double EntryAge(int unit, int position) => Math.Max(0, Age(unit, position, 0));

    private InPlace Fit(int unit, int position, double day, int ordinal)
    {
        WeibullLife life = _scenario.Lives[position];
        return new InPlace(day, life.Scale * Math.Pow(-Math.Log(Uniform(unit, position, ordinal)), 1 / life.Shape), ordinal);
    }

    /// <summary>Above 0 and below 1, fixed by its place: the finaliser of Steele, Lea and Flood (2014), OOPSLA, chained over the figures.</summary>
    private double Uniform(int unit, int position, int ordinal)
    {
        ulong mixed = 0;
        foreach (int figure in (ReadOnlySpan<int>)[_seed, unit, position, ordinal])
        {
            mixed = unchecked((mixed ^ (uint)figure) + 0x9E3779B97F4A7C15);
            mixed = unchecked((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9);
            mixed = unchecked((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB);
            mixed ^= mixed >> 31;
        }

        return ((mixed >> 12) + 0.5) * Math.ScaleB(1, -52);
    }

    private readonly record struct InPlace(double FittedOn, double Life, int Ordinal);

    private readonly record struct Ended(int Position, double EntryAge, double Age, bool Failed, bool MadeTheVisit, double Day);
}
