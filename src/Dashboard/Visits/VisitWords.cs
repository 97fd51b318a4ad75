using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Dashboard.Visits;

/// <summary>The words of visits: choices of the form, and names of what a visit tells.</summary>
public static class VisitWords
{
    // In the order in which the form offers them.
    private static readonly VisitOutcome[] OutcomesInOrder =
        [VisitOutcome.Proven, VisitOutcome.RepairedNotProven, VisitOutcome.WaitingPart, VisitOutcome.WaitingApproval, VisitOutcome.NoFaultFound];

    /// <summary>What a check or proof came to.</summary>
    public static IReadOnlyList<Choice> CheckResults => Choices(VisitTexts.Now.Results, string.Empty, "pass", "fail");

    /// <summary>How a part looks that was left in.</summary>
    public static IReadOnlyList<Choice> Grades => Choices(VisitTexts.Now.Grades, string.Empty, "good", "worn", "poor");

    /// <summary>Why a part was taken out.</summary>
    public static IReadOnlyList<Choice> Reasons => Choices(VisitTexts.Now.Reasons, string.Empty, "failed", "found_failed", "precaution", "upgrade");

    /// <summary>How a visit ended.</summary>
    public static IReadOnlyList<Choice> Outcomes =>
        [.. OutcomesInOrder.Select(outcome => new Choice(JsonNamingPolicy.SnakeCaseLower.ConvertName(outcome.ToString()), Outcome(outcome)))];

    /// <summary>Units of measure that readings have in this trade; the first is none.</summary>
    public static IReadOnlyList<string> UnitsOfMeasure { get; } =
        [string.Empty, "A", "V", "Ω", "kΩ", "MΩ", "bar", "kPa", "mbar", "°C", "°F", "s", "min", "L", "L/min", "mm", "µA", "mg/L", Measure.HardnessSymbol, "%"];

    /// <summary>The same with the units that somebody reads in before those that are kept in their place.</summary>
    /// <param name="reader">Who reads.</param>
    /// <returns>Symbols, each once; the first is none.</returns>
    public static IReadOnlyList<string> UnitsOfMeasureFor(ReaderPreferences reader) =>
        [.. UnitsOfMeasure.SelectMany(symbol => Measure.Read(symbol, reader) is { } own ? new[] { own.Symbol, symbol } : [symbol]).Distinct()];

    /// <summary>A hazard in words.</summary>
    /// <param name="hazard">The hazard as the registry spells it.</param>
    /// <returns>A word or two.</returns>
    public static string Hazard(string hazard) => SafetyTexts.Now.Hazards.TryGetValue(hazard, out string? words) ? words : Text.CodeInside(hazard);

    /// <summary>An outcome in words.</summary>
    /// <param name="outcome">The outcome; null: nobody said.</param>
    /// <returns>A few words without a full stop.</returns>
    public static string Outcome(VisitOutcome? outcome) => outcome is { } told ? VisitTexts.Now.Outcomes[told] : VisitTexts.Now.NoOutcome;

    /// <summary>What a check or proof came to, within a sentence.</summary>
    /// <param name="result">pass, fail or not_done.</param>
    /// <returns>A word or two.</returns>
    public static string Result(string result) => VisitTexts.Now.ResultsInside.TryGetValue(result, out string? words) ? words : Text.CodeInside(result);

    private static Choice[] Choices(IReadOnlyDictionary<string, string> words, params string[] codes) => [.. codes.Select(code => new Choice(code, words[code]))];
}
