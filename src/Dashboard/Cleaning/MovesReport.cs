using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>How many units wait for whom, and the one without a wash for longest.</summary>
/// <param name="Units">Units under a rule.</param>
/// <param name="Late">Units past a deadline without a wash that counts; descaling is told apart.</param>
/// <param name="LongestUnit">Asset tag of the one past it for longest; null: none is.</param>
/// <param name="LongestSiteName">Name of its site.</param>
/// <param name="LongestHours">How long it is past the deadline.</param>
/// <param name="LateForDescaling">Units past a deadline of descaling.</param>
/// <param name="UnitsByMove">Units by whose move it is; a unit under two rules can wait for two.</param>
public sealed record MovesReport(
    int Units,
    int Late,
    string? LongestUnit,
    string? LongestSiteName,
    double? LongestHours,
    int LateForDescaling,
    IReadOnlyDictionary<Mover, int> UnitsByMove)
{
    /// <summary>The finding in one sentence: how many units have no wash that counts, and for how long the worst.</summary>
    public string Sentence
    {
        get
        {
            FleetTexts texts = CleaningSentenceTexts.Now.Fleet;
            string washing = Units == 0 ? texts.NoRule
                : Late == 0 ? texts.AllInTime.For(Units)
                : texts.Late.For(
                    Late, ("of_units", CleaningTexts.Now.OfUnits.For(Units)), ("unit", LongestUnit ?? Text.NotKnown), ("site", LongestSiteName ?? Text.NotKnown),
                    ("time", Text.DurationAfter(LongestHours)));
            return LateForDescaling == 0
                ? washing
                : Fill.In(texts.WithDescaling, ("washing", washing), ("descaling", texts.LateForDescaling.For(LateForDescaling)));
        }
    }
}
