namespace Washwear.Analytics.Planning;

/// <summary>
/// The visits of the sites that share a crew. Its minutes are relaxed: each week's minute gets a price, the sites are then solved each for
/// itself, and the prices follow the crowding (subgradient steps; Fisher 1981, Management Science 27, 1). What the sites cost at any prices, less
/// what the crew's minutes are worth at them, is a lower bound; their choices, cleared of crowding, are a plan.
/// </summary>
internal sealed class CrewSchedule
{
    private const int RoundsBetweenPlans = 6;
    private const int PatientRounds = 3;
    private const double CloseEnough = 1e-9;

    private readonly CrewProblem _problem;
    private readonly SiteProgram _program;
    private readonly double[] _prices;
    private readonly int[] _weekOf;
    private double _step = 1;
    private int _sinceBetter;

    private CrewSchedule(CrewProblem problem)
    {
        _problem = problem;
        _program = new SiteProgram(problem);
        _prices = new double[problem.Weeks];
        _weekOf = new int[problem.JobCount];
    }

    /// <summary>Cost of the plan found.</summary>
    public double Cost { get; private set; } = double.PositiveInfinity;

    /// <summary>No plan costs less.</summary>
    public double LowerBound { get; private set; } = double.NegativeInfinity;

    /// <summary>Week of each job, -1 for one that is left out.</summary>
    public int[] WeekOf { get; private set; } = [];

    /// <summary>Week of each job if the crew had no limit, -1 for one that is best left out even then.</summary>
    public int[] WithoutLimit { get; private set; } = [];

    public static CrewSchedule Solve(CrewProblem problem, int rounds)
    {
        var schedule = new CrewSchedule(problem);
        for (int round = 0; round < rounds; round++)
        {
            if (schedule.Round(round, round == rounds - 1))
            {
                break;
            }
        }

        return schedule;
    }

    /// <summary>One round; true when nothing is left to gain.</summary>
    private bool Round(int round, bool last)
    {
        double bound = Bound();
        double[] load = _problem.Load(_weekOf);
        _sinceBetter = bound > LowerBound ? 0 : _sinceBetter + 1;
        LowerBound = Math.Max(LowerBound, bound);
        if (round == 0)
        {
            WithoutLimit = [.. _weekOf];
        }

        if (round % RoundsBetweenPlans == 0 || last)
        {
            Plan();
        }

        return Cost - LowerBound <= CloseEnough * Math.Max(1, Cost) || !Reprice(load);
    }

    private double Bound()
    {
        double bound = 0;
        for (int site = 0; site < _problem.SiteCount; site++)
        {
            bound += _program.Solve(site, _prices, _weekOf);
        }

        for (int week = 0; week < _prices.Length; week++)
        {
            bound -= _prices[week] > 0 ? _prices[week] * _problem.Room[week] : 0;
        }

        return bound;
    }

    private void Plan()
    {
        int[] weekOf = CrewRepair.Cleared(_problem, _weekOf);
        double cost = _problem.Total(weekOf);
        if (cost < Cost)
        {
            (Cost, WeekOf) = (cost, weekOf);
        }
    }

    /// <summary>Moves the prices with the crowding; false when no week is crowded and none is priced.</summary>
    private bool Reprice(double[] load)
    {
        double square = 0;
        for (int week = 0; week < load.Length; week++)
        {
            double excess = load[week] - _problem.Room[week];
            square += excess > 0 || _prices[week] > 0 ? excess * excess : 0;
        }

        if (square == 0)
        {
            return false;
        }

        if (_sinceBetter >= PatientRounds)
        {
            (_step, _sinceBetter) = (_step / 2, 0);
        }

        double move = _step * Math.Max(Cost - LowerBound, CloseEnough) / square;
        for (int week = 0; week < load.Length; week++)
        {
            double excess = load[week] - _problem.Room[week];
            _prices[week] = excess > 0 || _prices[week] > 0 ? Math.Max(0, _prices[week] + (move * excess)) : 0;
        }

        return true;
    }
}
