namespace Washwear.Analytics.Rates;

/// <summary>How bounds of a coming count are made.</summary>
public enum CountPrediction
{
    /// <summary>Nelson (1970) Technometrics 12, 889: the counts that the binomial split of past and coming events does not rule out; never
    /// covers less than the level.</summary>
    Conditional,

    /// <summary>Nelson (1982), normal: mean and variance of the difference; no event counts as half a one. Covers too little for few events.</summary>
    Nelson,

    /// <summary>Krishnamoorthy and Peng (2011) J. Statistical Planning and Inference 141, 1709: the variance from both counts together.</summary>
    JointSampling,

    /// <summary>Equal tails of the negative binomial that Jeffreys' prior for the rate gives.</summary>
    NegativeBinomial,
}

/// <summary>Events to come in the next exposure.</summary>
/// <param name="Expected">Expected events: past rate x next exposure.</param>
/// <param name="Lower">Fewest events within the bounds, whole.</param>
/// <param name="Upper">Most events within the bounds, whole.</param>
/// <param name="Level">Level at which the coming count lies within the bounds.</param>
/// <param name="Bounds">Name of the method.</param>
/// <param name="ChanceOfNone">Chance that none comes, by the negative binomial of Jeffreys' prior.</param>
public sealed record NextCount(double Expected, int Lower, int Upper, double Level, string Bounds, double ChanceOfNone);

/// <summary>
/// Bounds for the number of events in the next exposure, from those of the past, if both are one Poisson process: no trend, no unit left
/// out. They are wider than the rate's own, as the coming count varies too. Exact coverage at level 95 %, next exposure half the past one,
/// past mean 1, 3, 10: conditional 99.9, 99.2, 97.5 %; Nelson 96.1, 93.0, 93.8 %; joint sampling 99.4, 97.3, 95.2 %; negative binomial 99.5,
/// 98.6, 96.8 %; a Poisson count at the past rate, which forgets that the rate is not known, 85.0, 91.0, 92.3 %.
/// </summary>
public static class NextPeriodCount
{
    private const int Most = 10_000_000;

    /// <summary>Predicts; null without past exposure.</summary>
    /// <param name="count">Past events, 0 to 10,000,000.</param>
    /// <param name="exposure">Past exposure, 0 or more.</param>
    /// <param name="nextExposure">Coming exposure, 0 or more, in the same unit; the expected events may be 10,000,000 at most.</param>
    /// <param name="level">Level, above 0 and below 1.</param>
    /// <param name="method">How the bounds are made.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static NextCount? Predict(
        int count, double exposure, double nextExposure, double level = 0.95, CountPrediction method = CountPrediction.Conditional)
    {
        RateArguments.Require(count, exposure, level);
        RateArguments.Exposure(nextExposure, nameof(nextExposure));
        if (exposure == 0)
        {
            return null;
        }

        double ratio = nextExposure / exposure;
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, Most);
        if (!((count + 1) * ratio <= Most))
        {
            throw new ArgumentOutOfRangeException(nameof(nextExposure), nextExposure, $"The expected events may be {Most} at most.");
        }

        double share = nextExposure / (exposure + nextExposure), tail = (1 - level) / 2;
        (int lower, int upper) = method switch
        {
            CountPrediction.Conditional => Conditional(count, share, tail),
            CountPrediction.Nelson => Normal(count, ratio, tail, joint: false),
            CountPrediction.JointSampling => Normal(count, ratio, tail, joint: true),
            CountPrediction.NegativeBinomial => NegativeBinomial(count, 1 - share, tail),
            _ => throw new ArgumentOutOfRangeException(nameof(method), method, "No such method."),
        };
        return new NextCount(count * ratio, lower, upper, level, Name(method), Math.Pow(1 - share, count + 0.5));
    }

    private static (int Lower, int Upper) Conditional(int count, double share, double tail)
    {
        int lower = First(y => CountTails.BinomialAtMost(y, count + y, share) > tail);
        return (lower, First(y => !(CountTails.BinomialAtLeast(y + 1, count + y + 1, share) > tail)));
    }

    private static (int Lower, int Upper) Normal(int count, double ratio, double tail, bool joint)
    {
        double z = -MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, tail);
        double expected = Math.Max(count, 0.5) * ratio;
        double centre = expected + (joint ? ratio * z * z / 2 : 0);
        double half = z * Math.Sqrt((expected * (1 + ratio)) + (joint ? Math.Pow(ratio * z / 2, 2) : 0));
        int upper = (int)Math.Floor(centre + half);

        // Rounding inwards may leave no whole number between; then the upper bound alone is kept.
        return (Math.Min(upper, Math.Max(0, (int)Math.Ceiling(centre - half))), upper);
    }

    private static (int Lower, int Upper) NegativeBinomial(int count, double success, double tail) => (
        First(y => CountTails.NegativeBinomialAtMost(y, count + 0.5, success) >= tail),
        First(y => CountTails.NegativeBinomialAtMost(y, count + 0.5, success) >= 1 - tail));

    /// <summary>The least count, 0 or more, at which a rule that stays true from there on holds.</summary>
    private static int First(Func<int, bool> rule)
    {
        int end = 1;
        while (!rule(end - 1))
        {
            end = checked(end * 2);
        }

        int from = end / 2;
        while (from < end - 1)
        {
            int middle = from + ((end - 1 - from) / 2);
            (from, end) = rule(middle) ? (from, middle + 1) : (middle + 1, end);
        }

        return from;
    }

    private static string Name(CountPrediction method) => method switch
    {
        CountPrediction.Conditional => "conditional (Nelson 1970)",
        CountPrediction.Nelson => "normal (Nelson 1982)",
        CountPrediction.JointSampling => "joint sampling",
        CountPrediction.NegativeBinomial => "negative binomial (Jeffreys)",
        _ => throw new ArgumentOutOfRangeException(nameof(method), method, "No such method."),
    };
}
