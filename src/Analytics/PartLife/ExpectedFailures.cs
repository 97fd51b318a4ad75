namespace Washwear.Analytics.PartLife;

/// <summary>Sums of H and H x ln age (centred), H the fitted cumulative hazard, over the time that parts were watched.</summary>
internal readonly record struct HazardMoments(double H, double HL)
{
    public static HazardMoments operator +(HazardMoments a, HazardMoments b) => new(a.H + b.H, a.HL + b.HL);

    public static HazardMoments operator -(HazardMoments a, HazardMoments b) => new(a.H - b.H, a.HL - b.HL);

    public static HazardMoments operator *(int times, HazardMoments a) => new(times * a.H, times * a.HL);
}

/// <summary>
/// Failures that a fitted curve expects up to any age from all the time that parts were watched: the sum over parts of H(min(end, age)) -
/// H(min(entry, age)). Sorted once with running sums, so that each question costs a search.
/// </summary>
internal sealed class ExpectedFailures
{
    private readonly FittedLife _fit;
    private readonly double[] _ends;
    private readonly double[] _entries;
    private readonly HazardMoments[] _endSums;
    private readonly HazardMoments[] _entrySums;

    public ExpectedFailures(FittedLife fit)
    {
        _fit = fit;
        Lives lives = fit.Likelihood.Lives;
        _ends = [.. lives.FailedAges, .. lives.RunningAges];
        _entries = [.. lives.FailedEntries.Concat(lives.RunningEntries).Where(e => e > 0)];
        Array.Sort(_ends);
        Array.Sort(_entries);
        _endSums = RunningSums(_ends);
        _entrySums = RunningSums(_entries);
    }

    /// <summary>Expected failures up to an age above 0.</summary>
    public HazardMoments By(double age) => Part(_ends, _endSums, age) - Part(_entries, _entrySums, age);

    /// <summary>Age by which so many failures are expected, by bisection to one part in a million million of the oldest age.</summary>
    public double AgeWhen(double failures)
    {
        double low = 0, high = _ends[^1];
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = By(middle).H < failures ? (middle, high) : (low, middle);
        }

        return high;
    }

    private HazardMoments Part(double[] ages, HazardMoments[] sums, double age)
    {
        int at = Array.BinarySearch(ages, age);
        int passed = at < 0 ? ~at : at;
        return sums[passed] + ((ages.Length - passed) * At(age));
    }

    private HazardMoments[] RunningSums(double[] ages)
    {
        var sums = new HazardMoments[ages.Length + 1];
        for (int i = 0; i < ages.Length; i++)
        {
            sums[i + 1] = sums[i] + At(ages[i]);
        }

        return sums;
    }

    private HazardMoments At(double age)
    {
        double log = Math.Log(age) - _fit.Likelihood.Centre;
        double hazard = Math.Exp((_fit.Maximum.Slope * log) - _fit.Maximum.Offset);
        return new HazardMoments(hazard, hazard == 0 ? 0 : hazard * log);
    }
}
