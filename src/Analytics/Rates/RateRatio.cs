using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>Two rates beside each other.</summary>
/// <param name="First">First rate with exact bounds; null without exposure.</param>
/// <param name="Second">Second rate with exact bounds; null without exposure.</param>
/// <param name="Ratio">First rate / second rate with exact bounds; null when it has no finite value: no event at the second, or no exposure
/// at one of them.</param>
/// <param name="RatioAtLeast">Lower bound of the ratio, also where the ratio itself has no finite value; null without exposure.</param>
/// <param name="Difference">First rate - second rate, events per unit of exposure; null without exposure.</param>
/// <param name="PValue">Chance of a split of the events at least as unlikely, if the two rates are the same; null without exposure.</param>
public sealed record RateComparison(
    Estimate? First, Estimate? Second, Estimate? Ratio, double? RatioAtLeast, Estimate? Difference, double? PValue);

/// <summary>
/// Compares two Poisson rates. Ratio: given all n events, those of the first are binomial with chance t1 r / (t1 r + t2), so Clopper and
/// Pearson's bounds of that chance turn into bounds of r; the two-sided p adds up all splits no likelier than the one seen (relative
/// tolerance 1e-7, as R's poisson.test). Source: Przyborowski and Wilenski (1940) Biometrika 31, 313-323; Lehmann and Romano (2005), Testing
/// Statistical Hypotheses, 4.5. Difference: the bounds of the two rates combined by the square root of their squared distances (method of
/// variance estimates recovery), Zou and Donner (2008) Statistics in Medicine 27, 1693-1702; as the single bounds are the exact ones, they
/// cover somewhat more than stated. The p-value and the bounds follow different rules, so near the level one may speak where the other does
/// not.
/// </summary>
public static class RateRatio
{
    private const double SameChance = 1e-7;

    /// <summary>Compares the rates of two groups.</summary>
    /// <param name="count1">Events of the first, 0 or more.</param>
    /// <param name="exposure1">Exposure of the first, 0 or more.</param>
    /// <param name="count2">Events of the second, 0 or more.</param>
    /// <param name="exposure2">Exposure of the second, 0 or more, in the same unit.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static RateComparison Compare(int count1, double exposure1, int count2, double exposure2, double level = 0.95)
    {
        Estimate? first = PoissonRate.Exact(count1, exposure1, level);
        Estimate? second = PoissonRate.Exact(count2, exposure2, level);
        if (first is null || second is null)
        {
            return new RateComparison(first, second, null, null, null, null);
        }

        int all = checked(count1 + count2);
        (double lowerOdds, double? upperOdds) = Odds(count1, count2, level);
        double lower = lowerOdds * exposure2 / exposure1;
        double? upper = upperOdds * exposure2 / exposure1;
        Estimate? ratio = count2 == 0 ? null : new Estimate(first.Value / second.Value, lower, upper, level, "exact conditional binomial");
        return new RateComparison(
            first, second, ratio, lower, Difference(first, second, level), NoLikelier(count1, all, exposure1 / (exposure1 + exposure2)));
    }

    /// <summary>Bounds of the odds that an event is the first group's; an upper bound exists only if the second has events.</summary>
    private static (double Lower, double? Upper) Odds(int count1, int count2, double level)
    {
        if (count1 > count2)
        {
            // The rarer side's share keeps its digits.
            (double low, double? high) = Odds(count2, count1, level);
            return (1 / high!.Value, low == 0 ? null : 1 / low);
        }

        return ProportionBounds.ClopperPearson(count1, count1 + count2, level) is { Lower: { } lower, Upper: { } upper }
            ? (lower / (1 - lower), count2 == 0 ? null : upper / (1 - upper))
            : (0, null);
    }

    private static Estimate Difference(Estimate first, Estimate second, double level)
    {
        double difference = first.Value - second.Value;
        double down = double.Hypot(first.Value - first.Lower!.Value, second.Upper!.Value - second.Value);
        double up = double.Hypot(first.Upper!.Value - first.Value, second.Value - second.Lower!.Value);
        return new Estimate(difference, difference - down, difference + up, level, "variance estimates recovery of exact bounds");
    }

    /// <summary>Chance of all outcomes that are no likelier than <paramref name="count"/>, X binomial.</summary>
    private static double NoLikelier(int count, int cases, double chance)
    {
        double limit = Binomial.PMFLn(chance, cases, count) + SameChance;
        double mean = cases * chance;
        if (count == mean)
        {
            return 1;
        }

        // Chances rise to the mode beside the mean and fall after it, so the likelier outcomes end where a bisection finds it.
        bool NoMore(int outcome) => Binomial.PMFLn(chance, cases, outcome) <= limit;
        double tails = count < mean
            ? CountTails.BinomialAtMost(count, cases, chance)
                + CountTails.BinomialAtLeast(First(NoMore, (int)Math.Ceiling(mean), cases + 1), cases, chance)
            : CountTails.BinomialAtLeast(count, cases, chance)
                + CountTails.BinomialAtMost(First(outcome => !NoMore(outcome), 0, (int)Math.Floor(mean) + 1) - 1, cases, chance);
        return Math.Min(1, tails);
    }

    /// <summary>The least whole number from <paramref name="from"/> on, below <paramref name="end"/>, at which the rule holds; else the end.</summary>
    private static int First(Func<int, bool> rule, int from, int end)
    {
        while (from < end)
        {
            int middle = from + ((end - from) / 2);
            (from, end) = rule(middle) ? (from, middle) : (middle + 1, end);
        }

        return from;
    }
}
