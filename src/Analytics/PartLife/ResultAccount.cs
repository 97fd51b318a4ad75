using System.Globalization;

namespace Washwear.Analytics.PartLife;

/// <summary>What every result on lives says about itself, so that a page can name it beside the figure.</summary>
/// <param name="Method">Statistical name of the method.</param>
/// <param name="Convention">Parametrisation and conventions that the figures follow.</param>
/// <param name="Clock">Clock and unit of all ages.</param>
/// <param name="Lives">Number of lives used.</param>
/// <param name="Failures">Failures among them.</param>
/// <param name="Censored">Lives among them that had not failed when last seen.</param>
/// <param name="Excluded">Lives left out, by reason.</param>
/// <param name="Converged">True when the figures solve the method's equations; methods without iteration are always true.</param>
/// <param name="Doubts">Plain sentences that a reader must see before acting on the figures; empty when there are none.</param>
public sealed record ResultAccount(
    string Method,
    string Convention,
    string Clock,
    int Lives,
    int Failures,
    int Censored,
    IReadOnlyList<Exclusion> Excluded,
    bool Converged,
    IReadOnlyList<string> Doubts)
{
    /// <summary>Number of lives left out, over all reasons.</summary>
    public int ExcludedCount => Excluded.Sum(e => e.Count);

    internal static ResultAccount For(
        Lives lives, string method, string convention, bool converged, params IEnumerable<string> doubts) => new(
            method, convention, lives.Clock, lives.Count, lives.Failures, lives.Censored, lives.Excluded, converged,
            [.. ExclusionDoubts(lives), .. doubts]);

    internal static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<string> ExclusionDoubts(Lives lives)
    {
        if (lives.ExcludedCount > lives.Count)
        {
            yield return Text(
                $"More lives were left out ({lives.ExcludedCount}) than used ({lives.Count}): the figures may not speak for the fleet.");
        }
    }
}
