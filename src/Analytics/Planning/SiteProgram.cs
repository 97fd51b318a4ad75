namespace Washwear.Analytics.Planning;

/// <summary>
/// Least cost of one site's visits by a dynamic program over consecutive visited weeks. If a job's cost falls to its best week and rises after
/// it, the visited week that suits it best is the last one up to its best week or the first one after, so the jobs whose best week lies
/// between two visits depend on these two alone. A cost that is not so shaped is replaced by the greatest one below it that is: the least
/// over the weeks from the start up to a week before the best, and from a week to the end after; weeks closed to all jobs are passed over. The
/// value is then a lower bound; where
/// all costs are so shaped it is the least cost itself.
/// </summary>
internal sealed class SiteProgram
{
    private readonly CrewProblem _problem;
    private readonly int _weeks;
    private readonly double[] _value;
    private readonly int[] _before;
    private readonly bool[] _open;
    private readonly double[] _visit;
    private double[] _shaped = [];
    private double[] _notDone = [];
    private int[] _best = [];

    public SiteProgram(CrewProblem problem)
    {
        _problem = problem;
        _weeks = problem.Weeks;
        _value = new double[_weeks + 1];
        _before = new int[_weeks + 1];
        _open = new bool[_weeks];
        _visit = new double[_weeks];
    }

    /// <summary>Chooses visits for a site, and the week of each of its jobs among them by its true cost.</summary>
    /// <param name="site">The site.</param>
    /// <param name="prices">Price of a minute in each week.</param>
    /// <param name="weekOf">Takes the week of each job of the site, -1 for one that is left out.</param>
    /// <returns>A lower bound of the cost, prices included.</returns>
    public double Solve(int site, double[] prices, int[] weekOf)
    {
        int[] jobs = _problem.JobsAt[site];
        Shape(jobs, prices);
        for (int week = 0; week < _weeks; week++)
        {
            _visit[week] = _problem.VisitCost[site] + (_problem.TravelMinutes * prices[week]);
        }

        double bound = Best(jobs.Length);
        Assign(jobs, prices, weekOf);
        return bound;
    }

    private void Shape(int[] jobs, double[] prices)
    {
        if (_best.Length < jobs.Length)
        {
            _best = new int[jobs.Length];
            _notDone = new double[jobs.Length];
            _shaped = new double[jobs.Length * _weeks];
        }

        var order = new (int Best, int Job)[jobs.Length];
        for (int i = 0; i < jobs.Length; i++)
        {
            order[i] = (Cheapest(jobs[i], prices), jobs[i]);
        }

        // By best week, so that the jobs between two visits stand together.
        Array.Sort(order);
        Array.Clear(_open);
        for (int i = 0; i < order.Length; i++)
        {
            (_best[i], _notDone[i]) = (order[i].Best, _problem.NotDone[order[i].Job]);
            ShapeOne(order[i].Job, order[i].Best, prices, _shaped.AsSpan(i * _weeks, _weeks));
        }
    }

    private int Cheapest(int job, double[] prices)
    {
        ReadOnlySpan<double> cost = _problem.CostOf(job);
        double minutes = _problem.Minutes[job], least = double.PositiveInfinity;
        int best = 0;
        for (int week = 0; week < _weeks; week++)
        {
            double here = cost[week] + (minutes * prices[week]);
            (least, best) = here < least ? (here, week) : (least, best);
        }

        return best;
    }

    private void ShapeOne(int job, int best, double[] prices, Span<double> shaped)
    {
        ReadOnlySpan<double> cost = _problem.CostOf(job);
        double minutes = _problem.Minutes[job], most = _problem.NotDone[job];
        double least = most;
        for (int week = 0; week < best; week++)
        {
            _open[week] |= double.IsFinite(cost[week]);
            least = Math.Min(least, cost[week] + (minutes * prices[week]));
            shaped[week] = least;
        }

        least = most;
        for (int week = _weeks - 1; week >= best; week--)
        {
            _open[week] |= double.IsFinite(cost[week]);
            least = Math.Min(least, cost[week] + (minutes * prices[week]));
            shaped[week] = least;
        }
    }

    /// <summary>Least cost of the visits up to each week, the last of which is that week; week -1 stands for none, place 0.</summary>
    private double Best(int jobs)
    {
        double best = Between(jobs, 0, -1, _weeks);
        int bestLast = -1;
        for (int week = 0; week < _weeks; week++)
        {
            double alone = _open[week] ? _visit[week] + Between(jobs, 0, -1, week) : double.PositiveInfinity;
            (_value[week], _before[week]) = (alone, -1);
        }

        for (int from = 0; from < _weeks; from++)
        {
            if (!_open[from])
            {
                continue;
            }

            int first = FirstFrom(jobs, from);
            for (int week = from + 1; week < _weeks; week++)
            {
                double reached = _value[from] + _visit[week];
                if (_open[week] && reached < _value[week])
                {
                    reached += Between(jobs, first, from, week);
                    (_value[week], _before[week]) = reached < _value[week] ? (reached, from) : (_value[week], _before[week]);
                }
            }

            double end = _value[from] + Between(jobs, first, from, _weeks);
            (best, bestLast) = end < best ? (end, from) : (best, bestLast);
        }

        _before[_weeks] = bestLast;
        return best;
    }

    private int FirstFrom(int jobs, int week)
    {
        int first = 0;
        while (first < jobs && _best[first] < week)
        {
            first++;
        }

        return first;
    }

    /// <summary>Cost of the jobs whose best week lies from one visit, included, to the next, excluded.</summary>
    private double Between(int jobs, int first, int from, int to)
    {
        double sum = 0;
        for (int i = first; i < jobs && _best[i] < to; i++)
        {
            int row = i * _weeks;
            double early = from < 0 ? double.PositiveInfinity : _shaped[row + from];
            double late = to >= _weeks ? double.PositiveInfinity : _shaped[row + to];
            sum += from < 0 && to >= _weeks ? _notDone[i] : Math.Min(early, late);
        }

        return sum;
    }

    private void Assign(int[] jobs, double[] prices, int[] weekOf)
    {
        foreach (int job in jobs)
        {
            (double least, int chosen) = (_problem.NotDone[job], -1);
            for (int week = _before[_weeks]; week >= 0; week = _before[week])
            {
                double here = _problem.Cost[(job * _weeks) + week] + (_problem.Minutes[job] * prices[week]);
                (least, chosen) = here < least ? (here, week) : (least, chosen);
            }

            weekOf[job] = chosen;
        }
    }
}
