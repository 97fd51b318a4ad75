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
    /// <param name="fixedShape">Bounds at a given shape; null when there are none.</param>
    /// <returns>The sentence.</returns>
    public static string Finding(
        string name, string clock, WeibullFigures? weibull, NotEnoughFigures? notEnough, FixedShapeFigures? fixedShape = null)
    {
        string unit = Text.ClockUnit(clock);
        if (weibull is not null)
        {
            return "One in ten fails by " + Text.Estimated(weibull.B10, unit) + " and half by " + Text.Estimated(weibull.B50, unit)
                + ": " + weibull.Ageing + ".";
        }

        string message = name + ": " + Capital(notEnough?.Message ?? "nothing is on record").TrimEnd('.');
        return fixedShape is { Source: not "assumed" } ? message + "; " + fixedShape.Sentence
            : notEnough?.MeanLifeLowerBound is { } bound ? message + "; if failures came at a constant rate, the mean life would be at least "
                + Text.Number(bound) + " " + unit + "."
            : message + ".";
    }

    /// <summary>What bounds at a given shape say.</summary>
    /// <param name="shape">The shape.</param>
    /// <param name="source">Its source in words.</param>
    /// <param name="b10Lower">Lower bound of the age by which 10 % fail.</param>
    /// <param name="meanLower">Lower bound of the mean life.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="confidence">One-sided confidence.</param>
    /// <returns>A sentence without a capital.</returns>
    public static string FixedShape(double shape, string source, double b10Lower, double meanLower, string clock, double confidence) =>
        "at a shape of " + Text.Number(shape) + " (" + source + "), one in ten fails no earlier than " + Text.Number(b10Lower) + " "
        + Text.ClockUnit(clock) + " and the mean life is at least " + Text.Number(meanLower) + " (" + Text.Share(confidence)
        + " confidence, one-sided).";

    /// <summary>The evidence against a group of parts that fails early.</summary>
    /// <param name="by">What the group is one of.</param>
    /// <param name="group">Its name.</param>
    /// <param name="lives">Lives in it.</param>
    /// <param name="failures">Failures among them.</param>
    /// <param name="ratio">Its scale over that of all other parts.</param>
    /// <param name="adjustedP">Adjusted p-value.</param>
    /// <param name="lookedAt">Groups looked at.</param>
    /// <param name="stillFitted">Parts of it that are still fitted.</param>
    /// <returns>One sentence.</returns>
    public static string Early(
        string by, string group, int lives, int failures, Estimate ratio, double adjustedP, int lookedAt, int stillFitted) =>
        Text.Words(by) + " " + group + " fails early: " + Text.Counted(failures, "failure") + " of " + Text.Counted(lives, "part")
        + ", lives " + Text.Estimated(ratio) + " times as long as those of all other parts (" + Text.PValue(adjustedP)
        + " after allowing for " + Text.Counted(lookedAt, "group") + " looked at); " + Text.Count(stillFitted)
        + (stillFitted == 1 ? " is" : " are") + " still fitted.";

    /// <summary>What a list of parts shows.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="kind">Which parts.</param>
    /// <param name="name">Name of the position.</param>
    /// <param name="count">How many.</param>
    /// <returns>One sentence.</returns>
    public static string Listed(PartLifeChoice choice, LifeKind kind, string name, int count)
    {
        ArgumentNullException.ThrowIfNull(choice);
        string which = kind switch
        {
            LifeKind.All => "on record, used and left out",
            LifeKind.Failed => "that failed",
            LifeKind.StillFitted => "still fitted",
            LifeKind.RemovedWorking => "taken out while working",
            LifeKind.LookedPoor => "taken out because they looked worn or poor",
            LifeKind.LeftOut => "left out, each with its reason",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such list of parts."),
        };
        string group = choice is { By: { } by, Group: { } only } ? ", " + Text.Words(by).ToLowerInvariant() + " " + only : string.Empty;
        return name + group + ": " + Text.Counted(count, "part") + " " + which + ".";
    }

    /// <summary>Why a clock was taken.</summary>
    /// <param name="asked">The clock that the reader asked for; null: none.</param>
    /// <param name="clocks">The comparison of clocks; null where there is none.</param>
    /// <returns>One sentence.</returns>
    public static string ClockReason(string? asked, ClockFigures? clocks) => (asked, clocks) switch
    {
        (null, null) => "Counted in days, the clock that is always known: too few parts tell their age on another, or fail, to compare clocks.",
        (null, { Decided: true }) => "Counted in " + Text.ClockUnit(clocks.Best) + ", because the records clearly follow that clock best.",
        (null, _) => "Counted in days: no clock explains the records clearly better than the others.",
        (_, { Decided: true }) when asked != clocks.Best =>
            "Counted in " + Text.ClockUnit(asked) + " as you asked; " + Text.ClockUnit(clocks.Best) + " explain the records clearly better.",
        _ => "Counted in " + Text.ClockUnit(asked) + " as you asked.",
    };

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
