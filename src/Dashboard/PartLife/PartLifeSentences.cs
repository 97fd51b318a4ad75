using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>The findings about part life, in one sentence each; page and API say the same.</summary>
public static class PartLifeSentences
{
    /// <summary>How long parts last, in one sentence.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="clock">days, washes or operating_hours.</param>
    /// <param name="weibull">The fitted figures; null when there are none.</param>
    /// <param name="notEnough">Why there are none; null when there are.</param>
    /// <returns>The sentence.</returns>
    public static string Finding(string name, string clock, WeibullFigures? weibull, NotEnoughFigures? notEnough)
    {
        string unit = Text.ClockUnit(clock);
        if (weibull is not null)
        {
            return "One in ten fails by " + Text.Estimated(weibull.B10, unit) + " and half by " + Text.Estimated(weibull.B50, unit)
                + ": " + weibull.Ageing + ".";
        }

        string message = Capital(notEnough?.Message ?? "nothing is on record");
        return name + ": " + message.TrimEnd('.') + (notEnough?.MeanLifeLowerBound is { } bound
            ? "; if failures came at a constant rate, the mean life would be at least " + Text.Number(bound) + " " + unit + "."
            : ".");
    }

    /// <summary>What a shape and its bounds say about ageing.</summary>
    /// <param name="shape">The shape.</param>
    /// <returns>Words without a capital or a full stop.</returns>
    public static string Ageing(Estimate shape)
    {
        ArgumentNullException.ThrowIfNull(shape);
        return (shape.Lower, shape.Upper) switch
        {
            ( > 1, _) => "it fails more often as it ages (wear-out)",
            (_, < 1) => "it fails more often when new (early failures)",
            _ => "whether it fails more often with age cannot be told from these records",
        };
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
