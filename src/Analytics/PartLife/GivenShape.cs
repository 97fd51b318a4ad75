using System.Globalization;

namespace Washwear.Analytics.PartLife;

/// <summary>Where a shape that was not fitted to the lives at hand comes from.</summary>
public enum ShapeSource
{
    /// <summary>Assumed for the method, such as shape 1 for a constant rate of failure.</summary>
    Assumed,

    /// <summary>Entered by the user, from knowledge that is not in the records.</summary>
    EnteredByUser,

    /// <summary>Fitted to all parts of the fleet at the same position.</summary>
    FleetOfSamePosition,
}

/// <summary>A shape that is given and not fitted, with the source that every result names beside it.</summary>
/// <param name="Value">The shape, from 0.02 to 100.</param>
/// <param name="Source">Where it comes from.</param>
/// <param name="Lower">Lower bound of the shape where its source has one; null otherwise or where open.</param>
/// <param name="Upper">Upper bound of the shape where its source has one; null otherwise or where open.</param>
public sealed record GivenShape(double Value, ShapeSource Source, double? Lower = null, double? Upper = null)
{
    /// <summary>The source in words, to stand after 'the shape'.</summary>
    public string SourceInWords => Source switch
    {
        ShapeSource.Assumed => "assumed",
        ShapeSource.EnteredByUser => "entered by the user",
        ShapeSource.FleetOfSamePosition => "fitted to the fleet's parts at the same position",
        _ => throw new InvalidOperationException($"Unknown source {Source}."),
    };

    /// <summary>The shape of all parts of the fleet at the same position, with its profile-likelihood bounds.</summary>
    /// <param name="fleet">Curve fitted to those parts.</param>
    /// <param name="level">Confidence level of the shape's bounds, above 0 and below 1.</param>
    public static GivenShape OfFleet(FittedLife fleet, double level = 0.95)
    {
        Numerics.Estimate shape = WeibullBounds.Shape(fleet, level);
        return new GivenShape(shape.Value, ShapeSource.FleetOfSamePosition, shape.Lower, shape.Upper);
    }

    internal string Sentence => string.Create(
        CultureInfo.InvariantCulture,
        $"The shape ({Value:G4}) was {SourceInWords}, not fitted to these lives: the bound is only as good as it.");

    internal IEnumerable<double> Ends =>
        new[] { Lower, Upper }.OfType<double>().Select(end => Math.Clamp(end, FixedShapeFit.LeastShape, FixedShapeFit.GreatestShape));
}
