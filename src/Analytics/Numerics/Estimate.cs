using System.Text.Json.Serialization;

namespace Washwear.Analytics.Numerics;

/// <summary>A figure computed from data, with the bounds that say how far it may be trusted.</summary>
/// <param name="Value">Best value, in the unit that the field's name gives.</param>
/// <param name="Lower">Lower bound of the two-sided interval; null when it does not exist or is open.</param>
/// <param name="Upper">Upper bound of the two-sided interval; null when it does not exist or is open.</param>
/// <param name="Level">Confidence level of the interval, above 0 and below 1.</param>
/// <param name="Bounds">Name of the method that gave the bounds, such as 'profile likelihood'.</param>
public sealed record Estimate(
    [property: JsonPropertyName("estimate")] double Value, double? Lower, double? Upper, double Level, string Bounds);
