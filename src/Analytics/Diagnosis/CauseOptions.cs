namespace Washwear.Analytics.Diagnosis;

/// <summary>How causes are weighed.</summary>
/// <param name="UnprovenWeight">What a visit counts whose repair was not proven, 0 to 1; one whose repair was proven counts 1.</param>
/// <param name="SomethingElseWeight">
/// Prior weight of 'something else', in equivalent past cases, 0 or more. A half, as no catalogue is complete: an assumption, which
/// findings outside the catalogue raise and findings inside it lower.
/// </param>
/// <param name="HazardLimit">
/// The hazard of a part may raise or lower its causes by this factor at most, 1 or more. Ten: a part fitted last week may be the wrong part
/// or a bad one, which its life curve does not know. An assumption.
/// </param>
/// <param name="FindingWrong">
/// Chance that a visit which found a cause and left it unmended is wrong, above 0 and below 1/2. One in ten: an assumption.
/// </param>
public sealed record CauseOptions(
    double UnprovenWeight = 0.5, double SomethingElseWeight = 0.5, double HazardLimit = 10, double FindingWrong = 0.1)
{
    /// <summary>The defaults.</summary>
    public static CauseOptions Usual { get; } = new();

    internal void Check()
    {
        Requirements.InRange(UnprovenWeight, 0, 1, nameof(UnprovenWeight));
        Requirements.InRange(SomethingElseWeight, 0, double.MaxValue, nameof(SomethingElseWeight));
        Requirements.InRange(HazardLimit, 1, double.MaxValue, nameof(HazardLimit));
        Requirements.InRange(FindingWrong, double.Epsilon, 0.5, nameof(FindingWrong));
    }
}
