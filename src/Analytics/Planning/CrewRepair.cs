namespace Washwear.Analytics.Planning;

/// <summary>
/// Makes a choice of weeks keep the crew's minutes: whole visits or single jobs leave crowded weeks for the cheapest others with room, least
/// added cost per minute freed first. Then single jobs and whole visits move wherever that saves, until nothing does.
/// </summary>
internal sealed class CrewRepair
{
    private const double Rounding = 1e-9;
    private const int MostPasses = 4;

    private readonly CrewProblem _problem;
    private readonly int _weeks;
    private readonly int[] _weekOf;
    private readonly double[] _load;
    private readonly int[] _jobsIn;

    private CrewRepair(CrewProblem problem, int[] weekOf)
    {
        _problem = problem;
        _weeks = problem.Weeks;
        _weekOf = [.. weekOf];
        _load = problem.Load(weekOf);
        _jobsIn = new int[problem.SiteCount * _weeks];
        for (int job = 0; job < weekOf.Length; job++)
        {
            Count(job, weekOf[job], 1);
        }
    }

    /// <summary>A choice of weeks near to the one given that no week's minutes are too few for.</summary>
    public static int[] Cleared(CrewProblem problem, int[] weekOf)
    {
        var repair = new CrewRepair(problem, weekOf);
        for (int week = 0; week < problem.Weeks; week++)
        {
            repair.Clear(week);
        }

        for (int pass = 0; pass < MostPasses && repair.Improve(); pass++)
        {
        }

        return repair._weekOf;
    }

    /// <summary>Where some jobs of one site and week go, and what that adds to the cost.</summary>
    private readonly record struct Move(int[] Jobs, int To, double Added, double Minutes);

    private void Clear(int week)
    {
        var queue = new PriorityQueue<int[], double>();
        foreach (int[] jobs in _load[week] > Limit(week) ? Candidates(week) : [])
        {
            Queue(queue, jobs, week);
        }

        while (_load[week] > Limit(week) && queue.TryDequeue(out int[]? jobs, out double key))
        {
            if (!jobs.All(j => _weekOf[j] == week))
            {
                continue;
            }

            // Other moves may have filled the place that this one had in mind: then it waits its turn again.
            Move move = BestMove(jobs, week);
            if (Key(move, week) > key + Rounding && queue.Count > 0)
            {
                Queue(queue, jobs, week);
                continue;
            }

            Apply(move);
        }
    }

    private void Queue(PriorityQueue<int[], double> queue, int[] jobs, int week) => queue.Enqueue(jobs, Key(BestMove(jobs, week), week));

    /// <summary>Added cost for each minute by which the week is relieved of what it has too much.</summary>
    private double Key(Move move, int week) => move.Minutes > 0
        ? move.Added / Math.Min(move.Minutes, Math.Max(_load[week] - Limit(week), Rounding))
        : double.MaxValue;

    /// <summary>The whole visits of a week and their single jobs.</summary>
    private IEnumerable<int[]> Candidates(int week)
    {
        foreach (IGrouping<int, int> visit in Enumerable.Range(0, _weekOf.Length).Where(j => _weekOf[j] == week).GroupBy(j => _problem.SiteOf[j]).ToArray())
        {
            int[] jobs = [.. visit];
            if (jobs.Length > 1)
            {
                yield return jobs;
            }

            foreach (int job in jobs)
            {
                yield return [job];
            }
        }
    }

    private bool Improve()
    {
        bool moved = false;
        for (int site = 0; site < _problem.SiteCount; site++)
        {
            foreach (int job in _problem.JobsAt[site])
            {
                moved |= Try([job], _weekOf[job]);
            }

            foreach (int[] visit in _problem.JobsAt[site].Where(j => _weekOf[j] >= 0).GroupBy(j => _weekOf[j]).Select(g => g.ToArray()).ToArray())
            {
                moved |= visit.Length > 1 && Try(visit, _weekOf[visit[0]]);
            }
        }

        return moved;
    }

    private bool Try(int[] jobs, int from)
    {
        Move move = BestMove(jobs, from);
        if (move.To == from || !(move.Added < -Rounding))
        {
            return false;
        }

        Apply(move);
        return true;
    }

    /// <summary>The cheapest other place, left out included, for jobs of one site that are all in one week.</summary>
    private Move BestMove(int[] jobs, int from)
    {
        int site = _problem.SiteOf[jobs[0]];
        double minutes = jobs.Sum(j => _problem.Minutes[j]);
        bool leavesEmpty = from >= 0 && _jobsIn[(site * _weeks) + from] == jobs.Length;
        double back = jobs.Sum(j => from < 0 ? _problem.NotDone[j] : _problem.Cost[(j * _weeks) + from])
            + (leavesEmpty ? _problem.VisitCost[site] : 0);
        (double least, int best) = from < 0 ? (double.PositiveInfinity, from) : (jobs.Sum(j => _problem.NotDone[j]), -1);
        for (int week = 0; week < _weeks; week++)
        {
            if (week == from || _load[week] + minutes + Travel(site, week) > Limit(week))
            {
                continue;
            }

            double cost = _jobsIn[(site * _weeks) + week] > 0 ? 0 : _problem.VisitCost[site];
            for (int i = 0; i < jobs.Length && cost < least; i++)
            {
                cost += _problem.Cost[(jobs[i] * _weeks) + week];
            }

            (least, best) = cost < least ? (cost, week) : (least, best);
        }

        return new Move(jobs, best, least - back, minutes + (leavesEmpty ? _problem.TravelMinutes : 0));
    }

    /// <summary>Minutes of the visit itself in a week in which the site has no job, 0 where it has one.</summary>
    private double Travel(int site, int week) => _jobsIn[(site * _weeks) + week] > 0 ? 0 : _problem.TravelMinutes;

    private double Limit(int week) => _problem.Room[week] * (1 + Rounding);

    private void Apply(Move move)
    {
        foreach (int job in move.Jobs)
        {
            Count(job, _weekOf[job], -1);
            Load(job, _weekOf[job], -1);
            _weekOf[job] = move.To;
            Load(job, move.To, 1);
            Count(job, move.To, 1);
        }
    }

    private void Load(int job, int week, int sign)
    {
        if (week >= 0)
        {
            _load[week] += sign * (_problem.Minutes[job] + Travel(_problem.SiteOf[job], week));
        }
    }

    private void Count(int job, int week, int by)
    {
        if (week >= 0)
        {
            _jobsIn[(_problem.SiteOf[job] * _weeks) + week] += by;
        }
    }
}
