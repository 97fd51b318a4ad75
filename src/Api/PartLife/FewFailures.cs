using Washwear.Analytics.PartLife;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>What can be said where failures are too few for a curve: lower bounds at a shape that is given, with its source.</summary>
internal static class FewFailures
{
    // Up to here a curve of a few parts' own is so poorly known that the fleet's shape says more.
    private const int FewWithCurve = 4;

    /// <summary>Why there is no curve, with the exact bound of a constant rate.</summary>
    /// <param name="result">The refusal.</param>
    /// <param name="lives">The lives.</param>
    /// <param name="level">One-sided confidence.</param>
    public static NotEnoughFigures NotEnough(NotEnough result, Lives lives, double level)
    {
        // A constant rate is a Weibull of shape 1: its lower bound needs no failure at all.
        var constant = FixedShapeFit.Fit(lives, 1, level) as FixedShapeLife;
        return new NotEnoughFigures(
            lives.Failures,
            new WeibullFitOptions().MinimumFailures,
            Remarks.Told(result.Message),
            constant is null ? 0 : Math.Exp(constant.LogPoweredExposure),
            constant?.MeanLifeLower,
            level);
    }

    /// <summary>
    /// Bounds at the shape that the reader entered; without one, and with at most four failures, at the shape of all parts of the fleet at the
    /// position, or where that has none and there is no curve either, at 1 (a constant rate).
    /// </summary>
    /// <param name="choice">What was asked.</param>
    /// <param name="lives">The lives asked for.</param>
    /// <param name="hasCurve">Whether a curve was fitted to them.</param>
    /// <param name="fleet">All lives of the position on the same clock, where those asked for are fewer; null otherwise.</param>
    /// <returns>The bounds; null where they are not called for or nothing was observed.</returns>
    public static FixedShapeFigures? FixedShape(PartLifeChoice choice, Lives lives, bool hasCurve, Lives? fleet)
    {
        if (choice.Shape is null && hasCurve && lives.Failures > FewWithCurve)
        {
            return null;
        }

        GivenShape? given = choice.Shape is { } entered ? new GivenShape(entered, ShapeSource.EnteredByUser)
            : fleet is not null && WeibullFit.Fit(fleet) is FittedLife fit ? GivenShape.OfFleet(fit, choice.Level)
            : hasCurve ? null
            : new GivenShape(1, ShapeSource.Assumed);
        return given is not null && FixedShapeFit.Fit(lives, given, choice.Level) is FixedShapeLife life ? Figures(life, lives) : null;
    }

    private static FixedShapeFigures Figures(FixedShapeLife life, Lives lives)
    {
        double exposure = Math.Exp(life.LogPoweredExposure);
        return new FixedShapeFigures(
            life.Shape,
            Code(life.Given.Source),
            Remarks.Told(life.Given.SourceInWords),
            life.Given.Lower,
            life.Given.Upper,
            lives.Failures,
            life.Confidence,
            double.IsFinite(exposure) ? exposure : null,
            life.Scale,
            life.ScaleLower,
            life.MeanLifeLower,
            life.AgeWhenFailedLower(0.10),
            PartLifeSentences.FixedShape(
                life.Shape, Remarks.Told(life.Given.SourceInWords), life.AgeWhenFailedLower(0.10), life.MeanLifeLower, lives.Clock, life.Confidence),
            Remarks.Told(life.Account.Doubts));
    }

    private static string Code(ShapeSource source) => source switch
    {
        ShapeSource.Assumed => "assumed",
        ShapeSource.EnteredByUser => "entered_by_user",
        ShapeSource.FleetOfSamePosition => "fleet_of_same_position",
        _ => throw new ArgumentOutOfRangeException(nameof(source), source, "A source without a code."),
    };
}
