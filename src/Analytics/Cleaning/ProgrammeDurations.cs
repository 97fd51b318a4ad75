using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// How long a programme takes at one unit since its chart began, and how far a further wash is from that. The score is self-starting: the
/// deviation from the washes so far, in their standard deviations, follows Student's distribution and is carried over to the normal one, so
/// that the scores of a sound unit are independent and standard normal although nobody knows its true mean and deviation. Hawkins (1987) The
/// Statistician 36, 299. Robust in two ways: gross outliers among the first washes are left out, and a later wash pulls the mean no further
/// than a score of 3 would.
/// </summary>
/// <param name="Programme">Programme.</param>
/// <param name="First">Durations until there are enough, minutes; null: there are.</param>
/// <param name="Count">Washes that the mean rests on.</param>
/// <param name="Mean">Their mean, minutes.</param>
/// <param name="SquaredDeviations">Sum of their squared deviations from it.</param>
public sealed record ProgrammeDurations(
    string Programme, IReadOnlyList<double>? First, int Count, double Mean, double SquaredDeviations)
{
    /// <summary>Scores are cut at this.</summary>
    internal const double LargestScore = 3;

    // A change that is smaller than this is nobody's sign, even where a programme takes the same time to the second.
    private const double LeastDeviationMinutes = 0.5;

    // Hampel's rule with a wide fence: a narrow one would cut sound washes off ten and make the scores too wide.
    private const double OutlierDeviations = 10;
    private const double MadOfNormal = 1.4826;

    /// <summary>Before any wash.</summary>
    /// <param name="programme">Programme.</param>
    public static ProgrammeDurations Begin(string programme) => new(programme, [], 0, 0, 0);

    /// <summary>Whether a further wash can be scored.</summary>
    public bool IsKnown => First is null;

    private double Deviation => Math.Max(LeastDeviationMinutes, Math.Sqrt(SquaredDeviations / (Count - 1)));

    // Of a further wash from the mean of those so far.
    private double Spread => Deviation * Math.Sqrt(1 + (1.0 / Count));

    /// <summary>Takes one of the first washes in.</summary>
    /// <param name="minutes">Its duration, minutes.</param>
    /// <param name="enough">How many first washes there must be, 4 or more.</param>
    public ProgrammeDurations LearnFirst(double minutes, int enough)
    {
        double[] first = [.. First!, minutes];
        if (first.Length < enough)
        {
            return this with { First = first };
        }

        double median = first.Median();
        double robust = Math.Max(LeastDeviationMinutes, MadOfNormal * first.Select(x => Math.Abs(x - median)).Median());
        double[] kept = [.. first.Where(x => Math.Abs(x - median) <= OutlierDeviations * robust)];
        double mean = kept.Mean();
        return this with { First = null, Count = kept.Length, Mean = mean, SquaredDeviations = kept.Sum(x => (x - mean) * (x - mean)) };
    }

    /// <summary>The standard normal score of a further wash, -3 to 3.</summary>
    /// <param name="minutes">Its duration, minutes.</param>
    public double Score(double minutes)
    {
        double deviations = (minutes - Mean) / Spread;

        // From the lower tail, where the distribution has all its digits.
        double score = -Normal.InvCDF(0, 1, StudentT.CDF(0, 1, Count - 1, -Math.Abs(deviations)));
        return Math.CopySign(Math.Min(LargestScore, score), deviations);
    }

    internal ProgrammeDurations Learn(double minutes, double score)
    {
        double taken = Math.Abs(score) < LargestScore ? minutes : Mean + Math.CopySign(Farthest, score);
        double mean = Mean + ((taken - Mean) / (Count + 1));
        return this with
        {
            Count = Count + 1,
            Mean = mean,
            SquaredDeviations = SquaredDeviations + ((taken - Mean) * (taken - mean)),
        };
    }

    private double Farthest => Spread * StudentT.InvCDF(0, 1, Count - 1, Normal.CDF(0, 1, LargestScore));
}
