using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>The findings about part life, in one sentence each; page and API say the same.</summary>
public static class PartLifeSentences
{
    /// <summary>What the figures are worked out by, for their basis.</summary>
    public static string Method => Texts.Method;

    private static PartLifeTexts Texts => PartLifeTexts.Now;

    private static PartLifeFitTexts Fit => PartLifeFitTexts.Now;

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
        if (weibull is not null)
        {
            string unit = Text.ClockUnitAfter(clock);
            return Fill.In(
                Fit.Finding, ("b10", Text.Estimated(weibull.B10, unit)), ("b50", Text.Estimated(weibull.B50, unit)), ("ageing", weibull.Ageing));
        }

        string message = Fill.In(Fit.Message, ("name", name), ("reason", Text.Capital(notEnough?.Message ?? Fit.NothingOnRecord).TrimEnd('.')));
        return fixedShape is { Source: not "assumed" } ? message + "; " + fixedShape.Sentence
            : notEnough?.MeanLifeLowerBound is { } bound
            ? Fill.In(Fit.ConstantRate, ("message", message), ("bound", Text.Number(bound)), ("clock", Text.ClockUnit(clock)))
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
    public static string FixedShape(double shape, string source, double b10Lower, double meanLower, string clock, double confidence) => Fill.In(
        Texts.Fixed.Sentence,
        ("shape", Text.Number(shape)), ("source", source), ("b10", Text.Number(b10Lower)), ("clock", Text.ClockUnitAfter(clock)),
        ("mean", Text.Number(meanLower)), ("share", Text.Share(confidence)));

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
        string by, string group, int lives, int failures, Estimate ratio, double adjustedP, int lookedAt, int stillFitted) => Texts.Early.Sentence.For(
            stillFitted,
            ("by", PartLifeWords.Grouping(by)), ("group", PartLifeWords.Group(group)), ("failures", Texts.Early.Failures.For(failures)),
            ("parts", Texts.Early.Parts.For(lives)), ("ratio", Text.Estimated(ratio)), ("p", Text.PValue(adjustedP)),
            ("groups", Texts.Early.Groups.For(lookedAt)));

    /// <summary>What a list of parts shows.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="kind">Which parts.</param>
    /// <param name="name">Name of the position.</param>
    /// <param name="count">How many.</param>
    /// <returns>One sentence.</returns>
    public static string Listed(PartLifeChoice choice, LifeKind kind, string name, int count)
    {
        ArgumentNullException.ThrowIfNull(choice);
        string of = choice is { By: { } by, Group: { } only }
            ? Fill.In(Texts.List.NameOfGroup, ("name", name), ("by", PartLifeWords.GroupingInside(by)), ("group", PartLifeWords.Group(only)))
            : name;
        return Texts.List.Sentences[kind].For(count, ("name", of));
    }

    /// <summary>Why a clock was taken.</summary>
    /// <param name="asked">The clock that the reader asked for; null: none.</param>
    /// <param name="clocks">The comparison of clocks; null where there is none.</param>
    /// <returns>One sentence.</returns>
    public static string ClockReason(string? asked, ClockFigures? clocks) => (asked, clocks) switch
    {
        (null, null) => Texts.ClockReason.DaysAlwaysKnown,
        (null, { Decided: true }) => Fill.In(Texts.ClockReason.Best, ("clock", Text.ClockUnitAfter(clocks.Best))),
        (null, _) => Texts.ClockReason.DaysUndecided,
        (_, { Decided: true }) when asked != clocks.Best =>
            Fill.In(Texts.ClockReason.AskedAgainstBest, ("clock", Text.ClockUnitAfter(asked)), ("best", Text.ClockUnit(clocks.Best))),
        _ => Fill.In(Texts.ClockReason.Asked, ("clock", Text.ClockUnitAfter(asked))),
    };

    /// <summary>What a shape and its bounds say about ageing.</summary>
    /// <param name="shape">The shape.</param>
    /// <returns>Words without a capital or a full stop.</returns>
    public static string Ageing(Estimate shape)
    {
        ArgumentNullException.ThrowIfNull(shape);
        return (shape.Lower, shape.Upper) switch
        {
            ( > 1, _) => Fit.WearsOut,
            (_, < 1) => Fit.FailsEarly,
            _ => Fit.NotTold,
        };
    }

    /// <summary>Whether a fitted curve suits the lives.</summary>
    /// <param name="test">Its test.</param>
    /// <param name="level">p-values below it say that it does not.</param>
    /// <returns>One sentence, or two where the plot bends.</returns>
    public static string FitQuality(FitTestFigures test, double level)
    {
        ArgumentNullException.ThrowIfNull(test);
        string tested = test.PValue is { } p
            ? Fill.In(p < level ? Fit.FitsPoorly : Fit.Fits, ("p", Text.PValue(p)), ("method", test.Method))
            : test.Doubts.Count > 0 ? test.Doubts[0] : Fit.NotTested;
        return test.MixtureWarning is { } bend ? tested + " " + bend : tested;
    }

    /// <summary>The model behind a chance to fail.</summary>
    /// <param name="failures">Failures that it was fitted to.</param>
    /// <param name="lives">Lives that it was fitted to.</param>
    /// <returns>A few words.</returns>
    public static string ChanceFitted(int failures, int lives) =>
        Fill.In(Texts.Chance.Fitted, ("failures", Texts.Early.Failures.For(failures)), ("parts", Texts.Early.Parts.For(lives)));

    /// <summary>Why no chance to fail can be told.</summary>
    /// <param name="ageIsKnown">Whether the part's age is known; else that is the reason.</param>
    /// <returns>A few words.</returns>
    public static string NoChance(bool ageIsKnown) => ageIsKnown ? Texts.Chance.NoLives : Texts.Chance.AgeNotKnown;
}
