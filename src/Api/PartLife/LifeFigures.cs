using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Dashboard.PartLife;
using KaplanMeierStep = Washwear.Analytics.PartLife.KaplanMeierStep;

namespace Washwear.Api.PartLife;

/// <summary>Figures of one collection of lives, in the records that page and API show.</summary>
internal static class LifeFigures
{
    private const int CurvePoints = 60;

    /// <summary>The fitted figures with bounds by one method.</summary>
    /// <param name="fitted">The fit.</param>
    /// <param name="bounds">Its bounds.</param>
    public static WeibullFigures Weibull(FittedLife fitted, LifeBounds bounds) => new(
        bounds.Shape,
        bounds.Scale,
        bounds.MeanLife,
        bounds.AgesWhenFailed[0].Age,
        bounds.AgesWhenFailed[1].Age,
        fitted.LogLikelihood,
        fitted.Aic,
        PartLifeSentences.Ageing(bounds.Shape));

    /// <summary>The fitted figures with bounds from the observed information; null without a fit or where they were not asked for.</summary>
    /// <param name="fitted">The fit, if any.</param>
    /// <param name="choice">What was asked.</param>
    public static WeibullFigures? Information(FittedLife? fitted, PartLifeChoice choice) => fitted is null || !choice.BothBounds
        ? null
        : Weibull(fitted, WeibullBounds.Of(
            fitted, new WeibullBoundsOptions { Level = choice.Level, Method = BoundsMethod.ObservedInformation }));

    /// <summary>Survival at the ages that were asked for.</summary>
    /// <param name="fitted">The fit, if any.</param>
    /// <param name="seen">Survival without a model.</param>
    /// <param name="choice">The ages and the level.</param>
    /// <param name="oldest">Greatest age under watch.</param>
    public static IReadOnlyList<SurvivalAtRow> SurvivalAt(FittedLife? fitted, SurvivalCurve seen, PartLifeChoice choice, double oldest) =>
    [
        .. choice.At.Select(age => new SurvivalAtRow(
            age,
            age > oldest ? null : SeenAt(seen, age, choice.Level),
            fitted is null ? null : WeibullBounds.SurvivalAt(fitted, age, choice.Level),
            fitted is null || !choice.BothBounds
                ? null
                : WeibullBounds.SurvivalAt(fitted, age, choice.Level, BoundsMethod.ObservedInformation))),
    ];

    /// <summary>The fitted survival curve with pointwise bounds, from one sixtieth of the oldest age on.</summary>
    /// <param name="fitted">The fit.</param>
    /// <param name="oldest">Greatest age under watch.</param>
    /// <param name="level">Level of the bounds.</param>
    public static IEnumerable<CurvePoint> Curve(FittedLife fitted, double oldest, double level) =>
        Enumerable.Range(1, CurvePoints).Select(i => oldest * i / CurvePoints).Select(age =>
        {
            Estimate survival = WeibullBounds.SurvivalAt(fitted, age, level);
            return new CurvePoint(age, survival.Value, survival.Lower, survival.Upper);
        });

    /// <summary>Points of the probability plot; a share of 0 or 1 has no place on it.</summary>
    /// <param name="plot">The plot.</param>
    public static IEnumerable<PlottingPoint> Points(ProbabilityPlot plot) => plot.Points
        .Where(point => point.FailedShare is > 0 and < 1)
        .Select(point => new PlottingPoint(point.Age, point.FailedShare, point.AdjustedRank));

    /// <summary>The straight lines through those points; null without two of them.</summary>
    /// <param name="plot">The plot.</param>
    public static RankRegressionFigures? RankRegression(ProbabilityPlot plot) => plot.Points.Count < 2
        ? null
        : new RankRegressionFigures(Line(plot.AgeOnRank), Line(plot.RankOnAge), plot.RSquared, Remarks.Told(plot.Account.Convention));

    /// <summary>The test of the fit and of a bend in the plot.</summary>
    /// <param name="fitted">The fit.</param>
    public static FitTestFigures FitTest(FittedLife fitted)
    {
        GoodnessOfFitResult fit = GoodnessOfFit.Test(fitted);
        PlotBendResult bend = PlotBend.Test(fitted);
        return new FitTestFigures(
            Remarks.Told(fit.Account.Method),
            fit.Statistic,
            fit.AdjustedStatistic,
            fit.DegreesOfFreedom,
            fit.PValue,
            [.. fit.Bands.Select(band => new AgeBandRow(band.FromAge, band.ToAge, band.Observed, band.Expected))],
            bend.PValue,
            bend.AtAge,
            bend.Warning is { } warning ? Remarks.Told(warning) : null,
            Remarks.Told(fit.Account.Doubts));
    }

    /// <summary>What swaps of parts that looked worn or poor may do to the figures; null where there were none.</summary>
    /// <param name="lives">The lives.</param>
    /// <param name="level">Level of the bounds.</param>
    public static PoorSwapFigures? PoorSwaps(Lives lives, double level)
    {
        if (lives.SwappedWhenPoor == 0)
        {
            return null;
        }

        PoorSwapResult compared = Analytics.PartLife.PoorSwaps.Compare(lives, level);
        return new PoorSwapFigures(
            compared.SwappedWhenPoor,
            string.Join(' ', compared.Account.Doubts.Select(Remarks.Reworded)),
            compared.B10.IfAsGoodAsOthers,
            compared.B10.IfAboutToFail,
            compared.B50.IfAsGoodAsOthers,
            compared.B50.IfAboutToFail,
            compared.MeanLife.IfAsGoodAsOthers,
            compared.MeanLife.IfAboutToFail);
    }

    private static Estimate SeenAt(SurvivalCurve seen, double age, double level)
    {
        KaplanMeierStep[] before = [.. seen.Steps.TakeWhile(step => step.Age <= age)];
        return before.Length == 0
            ? new Estimate(1, null, null, level, "none: nothing failed before")
            : new Estimate(before[^1].Survival, before[^1].Lower, before[^1].Upper, level, "complementary log-log, Greenwood");
    }

    private static RankLine? Line(Weibull? line) => line is { } known ? new RankLine(known.Shape, known.Scale) : null;
}
