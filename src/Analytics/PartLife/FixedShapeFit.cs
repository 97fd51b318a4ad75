using MathNet.Numerics.Distributions;

using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>What ended the record, which fixes the degrees of freedom of the bound.</summary>
public enum RecordStop
{
    /// <summary>The record ends at a date, or part by part: 2 x failures + 2 degrees of freedom.</summary>
    AtATime,

    /// <summary>The record ends with the last failure: 2 x failures degrees of freedom; needs at least one failure.</summary>
    AtTheLastFailure,
}

/// <summary>A life curve whose shape was given, not fitted: scale and one-sided lower bounds.</summary>
public sealed record FixedShapeLife : LifeResult
{
    internal FixedShapeLife(
        ResultAccount account, GivenShape given, double confidence, double logExposure, double? scale, double scaleLower)
        : base(account)
    {
        Given = given;
        Confidence = confidence;
        LogPoweredExposure = logExposure;
        Scale = scale;
        ScaleLower = scaleLower;
    }

    /// <summary>The shape that was given, with its source.</summary>
    public GivenShape Given { get; }

    /// <summary>The shape that was given.</summary>
    public double Shape => Given.Value;

    /// <summary>Confidence of the one-sided lower bounds.</summary>
    public double Confidence { get; }

    /// <summary>Natural logarithm of the sum of age^shape over all parts, less entry^shape for those entered late.</summary>
    public double LogPoweredExposure { get; }

    /// <summary>Maximum-likelihood scale; null with no failure, when the likelihood rises with the scale for ever.</summary>
    public double? Scale { get; }

    /// <summary>Lower bound of the scale, in the unit of the clock.</summary>
    public double ScaleLower { get; }

    /// <summary>Lower bound of the mean life.</summary>
    public double MeanLifeLower => new Weibull(ScaleLower, Shape).MeanLife;

    /// <summary>Lower bound of the age by which a share of parts fails; <c>AgeWhenFailedLower(0.10)</c> bounds the B10 life.</summary>
    /// <param name="fraction">Share failed, above 0 and below 1.</param>
    public double AgeWhenFailedLower(double fraction) => new Weibull(ScaleLower, Shape).AgeWhenFailed(fraction);

    internal string Sentence => ResultAccount.Text(
        $"at a shape of {Shape:G4} ({Given.SourceInWords}), 10 % fail no earlier than {AgeWhenFailedLower(0.10):G4} {Account.Clock}")
        + ResultAccount.Text($" with {100 * Confidence:G4} % confidence");
}

/// <summary>
/// Weibull life with a given shape, for few or no failures: age^shape is then exponential, so the scale's lower bound is
/// (2 S / chi2(confidence, d))^(1/shape) with S the sum of age^shape and d = 2 x failures + 2 (record ended by time) or 2 x failures
/// (ended at the last failure). Source: Nelson (1985), Weibull analysis of reliability data with few or no failures, J. Quality
/// Technology 17, 140-146 (cited from memory). Exact when all parts follow one stopping rule; for mixed running times the usual
/// approximation. The bound trusts the given shape. A failure between two looks counts its running time only to the last look, which keeps the bound low.
/// </summary>
public static class FixedShapeFit
{
    private const string MethodName = "Weibull with a given shape";

    internal const double LeastShape = 0.02;
    internal const double GreatestShape = 100;

    /// <summary>Scale and lower bounds at a shape that is assumed, such as 1 for a constant rate of failure.</summary>
    /// <inheritdoc cref="Fit(Lives, GivenShape, double, RecordStop)"/>
    public static LifeResult Fit(Lives lives, double shape, double confidence = 0.95, RecordStop stop = RecordStop.AtATime) =>
        Fit(lives, new GivenShape(shape, ShapeSource.Assumed), confidence, stop);

    /// <summary>
    /// Scale and lower bounds at a given shape. Where the shape has bounds of its own, a doubt says what they would make of the B10 bound.
    /// </summary>
    /// <param name="lives">Lives on one clock.</param>
    /// <param name="shape">The shape, from 0.02 to 100, with its source.</param>
    /// <param name="confidence">One-sided confidence, above 0 and below 1.</param>
    /// <param name="stop">What ended the record.</param>
    /// <returns><see cref="FixedShapeLife"/>, or <see cref="NotEnough"/> when nothing was observed.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Shape or confidence is out of range.</exception>
    public static LifeResult Fit(Lives lives, GivenShape shape, double confidence = 0.95, RecordStop stop = RecordStop.AtATime)
    {
        ArgumentNullException.ThrowIfNull(lives);
        ArgumentNullException.ThrowIfNull(shape);
        CheckShape(shape.Value);
        CheckConfidence(confidence);
        int degrees = DegreesOfFreedom(lives.Failures, stop);
        if (degrees == 0 || LogExposure(lives, shape.Value) is not { } logExposure)
        {
            const string Nothing = "no running time was observed from which a bound could be computed";
            ResultAccount none = ResultAccount.For(lives, MethodName, Convention(degrees), false, [Nothing]);
            return new NotEnough(none, NoFitRule.NothingObserved, Nothing);
        }

        double lower = ScaleLower(logExposure, degrees, shape.Value, confidence);
        ResultAccount account = ResultAccount.For(lives, MethodName, Convention(degrees), true, Doubts(lives, shape, degrees, confidence));
        return double.IsFinite(lower) && lower > 0
            ? new FixedShapeLife(account, shape, confidence, logExposure, BestScale(lives, shape.Value, logExposure), lower)
            : new NotEnough(account with { Converged = false }, NoFitRule.BeyondRange, "the bound lies beyond the range of numbers");
    }

    internal static void CheckShape(double shape)
    {
        if (!(shape is >= LeastShape and <= GreatestShape))
        {
            throw new ArgumentOutOfRangeException(nameof(shape), shape, "A given shape must lie from 0.02 to 100.");
        }
    }

    internal static void CheckConfidence(double confidence)
    {
        if (!(confidence is > 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(confidence), confidence, "A confidence must lie above 0 and below 1.");
        }
    }

    private static int DegreesOfFreedom(int failures, RecordStop stop) => stop switch
    {
        RecordStop.AtATime => (2 * failures) + 2,
        RecordStop.AtTheLastFailure => 2 * failures,
        _ => throw new ArgumentOutOfRangeException(nameof(stop), stop, "Unknown way for a record to end."),
    };

    private static string Convention(int degrees) => ResultAccount.Text(
        $"shape given; lower bound (2 sum of age^shape / chi-square with {degrees} degrees of freedom)^(1/shape)");

    private static double ScaleLower(double logExposure, int degrees, double shape, double confidence) =>
        Math.Exp((logExposure + Math.Log(2 / ChiSquared.InvCDF(degrees, confidence))) / shape);

    private static IEnumerable<string> Doubts(Lives lives, GivenShape shape, int degrees, double confidence)
    {
        yield return shape.Sentence;
        double[] b10 = [.. shape.Ends.Select(end => ScaleLower(LogExposure(lives, end) ?? 0, degrees, end, confidence)
            * Math.Pow(-Elementary.LogOnePlus(-0.1), 1 / end))];
        if (b10.Length == 2 && b10.All(double.IsFinite))
        {
            yield return ResultAccount.Text($"Over the shape's own bounds ({shape.Lower:G4} to {shape.Upper:G4}) the bound of the age ")
                + ResultAccount.Text($"when 10 % fail runs from {b10.Min():G4} to {b10.Max():G4} {lives.Clock}.");
        }

        if (lives.FailedBetweenLooks > 0)
        {
            yield return "Failures between two looks count running time only to the last look: the lower bound is on the safe side.";
        }
    }

    private static double? BestScale(Lives lives, double shape, double logExposure)
    {
        if (lives.Failures == 0)
        {
            return null;
        }

        if (lives.FailedBetweenLooks == 0)
        {
            return Math.Exp((logExposure - Math.Log(lives.Failures)) / shape);
        }

        var likelihood = new WeibullLikelihood(lives);
        CurvePoint? best = WeibullProfile.BestOffset(likelihood, shape);
        double scale = best is { } found ? Math.Exp((found.Offset / shape) + likelihood.Centre) : double.NaN;
        return double.IsFinite(scale) && scale > 0 ? scale : null;
    }

    /// <summary>ln of the sum of end^shape - entry^shape, relative to the oldest age so that no power overflows; null for none.</summary>
    private static double? LogExposure(Lives lives, double shape)
    {
        double oldest = Math.Max(lives.OldestAge, double.Epsilon);
        double sum = Powered(lives.FailedAges, lives.FailedEntries, oldest, shape)
            + Powered(lives.SeenWorkingAges, lives.FoundEntries, oldest, shape)
            + Powered(lives.RunningAges, lives.RunningEntries, oldest, shape);
        return sum > 0 ? Math.Log(sum) + (shape * Math.Log(oldest)) : null;
    }

    private static double Powered(double[] ends, double[] entries, double oldest, double shape)
    {
        double sum = 0;
        for (int i = 0; i < ends.Length; i++)
        {
            double entry = Lives.EntryAt(entries, i);
            double part = entry == 0 ? 1 : -Elementary.ExpMinusOne(shape * Math.Log(entry / ends[i]));
            sum += part * Math.Pow(ends[i] / oldest, shape);
        }

        return sum;
    }
}
