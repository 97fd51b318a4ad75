using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>One figure under both readings of the parts that were swapped because they looked poor.</summary>
/// <param name="IfAsGoodAsOthers">The parts would have lasted as others of their age; null where no curve can be fitted.</param>
/// <param name="IfAboutToFail">The parts would have failed when they were swapped; null where no curve can be fitted.</param>
public sealed record PoorSwapRange(Estimate? IfAsGoodAsOthers, Estimate? IfAboutToFail)
{
    /// <summary>The least lower bound of the two readings; null when one of them has no curve or an open lower bound.</summary>
    public double? Lower => IfAsGoodAsOthers?.Lower is { } one && IfAboutToFail?.Lower is { } other ? Math.Min(one, other) : null;

    /// <summary>The greatest upper bound of the two readings; null when one of them has no curve or an open upper bound.</summary>
    public double? Upper => IfAsGoodAsOthers?.Upper is { } one && IfAboutToFail?.Upper is { } other ? Math.Max(one, other) : null;
}

/// <summary>How far a life may be misjudged because parts were swapped when they looked poor.</summary>
/// <param name="Account">Method, clock, counts (as read by <paramref name="IfAsGoodAsOthers"/>) and the doubt in words.</param>
/// <param name="SwappedWhenPoor">Number of such parts.</param>
/// <param name="IfAsGoodAsOthers">Curve with them as censored lives: the longer life.</param>
/// <param name="IfAboutToFail">Curve with them as failed when swapped: the shorter life.</param>
/// <param name="B10">Age by which 10 % fail.</param>
/// <param name="B50">Age by which 50 % fail.</param>
/// <param name="MeanLife">Mean life.</param>
/// <param name="Shape">Shape; its true value need not lie between the two.</param>
public sealed record PoorSwapResult(
    ResultAccount Account,
    int SwappedWhenPoor,
    LifeResult IfAsGoodAsOthers,
    LifeResult IfAboutToFail,
    PoorSwapRange B10,
    PoorSwapRange B50,
    PoorSwapRange MeanLife,
    PoorSwapRange Shape);

/// <summary>
/// Sensitivity to swaps that depend on the state of the part. Every method on censored lives supposes that a part taken out would have
/// lasted as long as others of its age; one taken out because it looked worn would not. How much shorter its life would have been
/// cannot be seen in the records (Tsiatis 1975, Proc. National Academy of Sciences 72, 20-22), so the curve is fitted under both
/// extremes: as good as others (censored), and about to fail (a failure at the swap). A part that was nearer to its failure than others of its
/// age lies between. Other ways to vary the assumption: Siannis, Copas and Lu (2005), Biostatistics 6, 77-91.
/// </summary>
public static class PoorSwaps
{
    /// <summary>Fits both extremes.</summary>
    /// <param name="lives">Lives on one clock, some of them swapped when poor (<see cref="LivesBuilder.SwappedWhenPoorAt"/>).</param>
    /// <param name="level">Confidence level of the bounds, above 0 and below 1.</param>
    /// <param name="options">As for <see cref="WeibullFit.Fit"/>.</param>
    public static PoorSwapResult Compare(Lives lives, double level = 0.95, WeibullFitOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(lives);
        FixedShapeFit.CheckConfidence(level);
        LifeResult good = WeibullFit.Fit(lives, options);
        LifeResult failed = lives.SwappedWhenPoor == 0 ? good : WeibullFit.Fit(AsFailed(lives), options);
        LifeBounds? longer = Bounds(good, level), shorter = Bounds(failed, level);
        PoorSwapRange Range(Func<LifeBounds, Estimate> figure) =>
            new(longer is null ? null : figure(longer), shorter is null ? null : figure(shorter));
        PoorSwapRange b10 = Range(b => b.AgesWhenFailed[0].Age);
        ResultAccount account = ResultAccount.For(
            lives,
            "sensitivity to swaps of parts that looked poor",
            "two Weibull fits: such parts as censored lives, and as failures at the swap",
            longer is not null && shorter is not null,
            Doubt(lives, b10));
        return new PoorSwapResult(
            account, lives.SwappedWhenPoor, good, failed, b10, Range(b => b.AgesWhenFailed[1].Age), Range(b => b.MeanLife), Range(b => b.Shape));
    }

    private static Lives AsFailed(Lives lives)
    {
        var builder = new LivesBuilder(lives.Clock, lives.Censored);
        builder.CopyWithPoorAsFailed(lives);
        return builder.Build();
    }

    private static LifeBounds? Bounds(LifeResult result, double level) =>
        result is FittedLife fit ? WeibullBounds.Of(fit, new WeibullBoundsOptions { Level = level }) : null;

    private static string Doubt(Lives lives, PoorSwapRange b10)
    {
        if (lives.SwappedWhenPoor == 0)
        {
            return "No part is marked as swapped because it looked poor, so there is nothing to compare.";
        }

        string swapped = ResultAccount.Text(
            $"Parts were swapped because they looked poor: {lives.SwappedWhenPoor} of {lives.Count}, beside those that failed: {lives.Failures}. ");
        return swapped + ((b10.IfAsGoodAsOthers, b10.IfAboutToFail) switch
        {
            ({ } good, { } failed) => ResultAccount.Text($"Had they been as good as others of their age, 10 % fail by {good.Value:G4} ")
                + ResultAccount.Text($"{lives.Clock}; had they been about to fail, by {failed.Value:G4}. The records do not say where between."),
            (null, { } failed) => ResultAccount.Text($"Had they been about to fail, 10 % fail by {failed.Value:G4} {lives.Clock}; ")
                + "had they been as good as others, there are too few failures to say.",
            _ => "There is no curve for both readings, so what they mean for the life cannot be said.",
        });
    }
}
