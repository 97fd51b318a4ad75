using MathNet.Numerics.Distributions;

using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Planning;

/// <summary>
/// Whether chances that were told came true. Band by band of the chance told: the share that happened with Clopper-Pearson bounds against
/// the mean told. Over all: the number expected against the number that happened, with the exact tails of the sum of unlike chances
/// (Poisson-binomial); Brier's (1950, Monthly Weather Review 78, 1) score, taken apart as Murphy (1973, J. Applied Meteorology 12, 595);
/// and Spiegelhalter's (1986, Statistics in Medicine 5, 421) z, the sum of (happened - told)(1 - 2 told) over its standard deviation if the
/// chances are right. All take the cases as independent: parts that fail of one cause together make the tests too strict.
/// </summary>
public static class ForecastScore
{
    /// <summary>Scores forecasts that were kept.</summary>
    /// <param name="cases">The chances told, and whether each came true.</param>
    /// <param name="options">Bands and level; null for the defaults.</param>
    /// <exception cref="ArgumentOutOfRangeException">A chance lies outside 0 to 1, or an option out of its range.</exception>
    public static ForecastScoring Of(IReadOnlyList<ForecastCase> cases, ForecastScoreOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(cases);
        ForecastScoreOptions asked = Checked(options ?? new ForecastScoreOptions());
        int happened = cases.Count(c => c.Happened);
        Against sum = Compared(cases, happened);
        ForecastBand[] bands = [.. asked.Edges.Zip(asked.Edges.Skip(1), (from, to) => Band(cases, from, to, asked)).Where(b => b.Count > 0)];
        double? z = Spiegelhalter(cases);
        return new ForecastScoring(
            cases.Count,
            sum.Expected,
            happened,
            sum.SoFew,
            sum.SoMany,
            Verdict(sum, asked),
            bands,
            cases.Count == 0 ? null : Brier(cases, asked),
            z,
            z is { } known ? Math.Min(1, 2 * Normal.CDF(0, 1, -Math.Abs(known))) : null);
    }

    private static ForecastBand Band(IReadOnlyList<ForecastCase> cases, double from, double to, ForecastScoreOptions options)
    {
        ForecastCase[] own = [.. cases.Where(c => In(c, from, to))];
        int happened = own.Count(c => c.Happened);
        double said = own.Length == 0 ? 0 : own.Average(c => c.Said);
        Estimate? share = ProportionBounds.ClopperPearson(happened, own.Length, options.Level);
        return new ForecastBand(from, to, own.Length, said, happened, share, Verdict(Compared(own, happened), options));
    }

    /// <summary>A band holds its lower edge; the last one its upper edge too.</summary>
    private static bool In(ForecastCase one, double from, double to) => one.Said >= from && (one.Said < to || (to == 1 && one.Said == 1));

    private static Against Compared(IReadOnlyList<ForecastCase> cases, int happened)
    {
        Demand sum = DemandDistribution.PoissonBinomial([.. cases.Select(c => c.Said)]);
        double many = happened == 0 ? 1 : Math.Min(1, sum.Probabilities.Skip(happened).Sum());
        return new Against(sum.Mean, cases.Count - sum.Mean, sum.Service(happened), many);
    }

    /// <summary>A clear contradiction is told whatever the number; agreement only where enough of either outcome was expected to show one.</summary>
    private static ForecastVerdict Verdict(Against sum, ForecastScoreOptions options)
    {
        double tail = (1 - options.Level) / 2;
        return sum.SoFew <= tail ? ForecastVerdict.SaidTooHigh
            : sum.SoMany <= tail ? ForecastVerdict.SaidTooLow
            : Math.Min(sum.Expected, sum.ExpectedNot) >= options.FewestExpected ? ForecastVerdict.Fits
            : ForecastVerdict.TooFewToSay;
    }

    private static double? Spiegelhalter(IReadOnlyList<ForecastCase> cases)
    {
        double sum = 0, variance = 0;
        foreach (ForecastCase one in cases)
        {
            double lean = 1 - (2 * one.Said);
            sum += ((one.Happened ? 1 : 0) - one.Said) * lean;
            variance += one.Said * (1 - one.Said) * lean * lean;
        }

        return variance > 0 ? sum / Math.Sqrt(variance) : null;
    }

    private static BrierParts Brier(IReadOnlyList<ForecastCase> cases, ForecastScoreOptions options)
    {
        double n = cases.Count, score = cases.Sum(c => Square(Outcome(c) - c.Said)) / n, mean = cases.Average(Outcome);
        double reliability = 0, resolution = 0;
        foreach ((double from, double to) in options.Edges.Zip(options.Edges.Skip(1)))
        {
            ForecastCase[] own = [.. cases.Where(c => In(c, from, to))];
            if (own.Length > 0)
            {
                reliability += own.Length / n * Square(own.Average(c => c.Said) - own.Average(Outcome));
                resolution += own.Length / n * Square(own.Average(Outcome) - mean);
            }
        }

        double uncertainty = mean * (1 - mean);
        return new BrierParts(score, reliability, resolution, uncertainty, score - (reliability - resolution + uncertainty));
    }

    private static double Outcome(ForecastCase one) => one.Happened ? 1 : 0;

    private static double Square(double x) => x * x;

    private static ForecastScoreOptions Checked(ForecastScoreOptions options)
    {
        if (!(options.Level is > 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(options), options.Level, "The level lies above 0 and below 1.");
        }

        IReadOnlyList<double> edges = options.Edges;
        bool rising = edges.Count >= 2 && edges[0] == 0 && edges[^1] == 1 && edges.Zip(edges.Skip(1)).All(e => e.First < e.Second);
        return rising && options.FewestExpected >= 0
            ? options
            : throw new ArgumentOutOfRangeException(nameof(options), "The edges rise from 0 to 1, and the fewest expected is 0 or more.");
    }

    /// <summary>What was expected to happen and not to, and the tails at what happened.</summary>
    private readonly record struct Against(double Expected, double ExpectedNot, double SoFew, double SoMany);
}
