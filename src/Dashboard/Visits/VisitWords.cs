using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

/// <summary>The words of visits: choices of the form, and names of what a visit tells.</summary>
public static class VisitWords
{
    /// <summary>What a check or proof came to.</summary>
    public static IReadOnlyList<Choice> CheckResults { get; } = [new(string.Empty, "Not done"), new("pass", "Pass"), new("fail", "Fail")];

    /// <summary>How a part looks that was left in.</summary>
    public static IReadOnlyList<Choice> Grades { get; } =
        [new(string.Empty, "Not looked at"), new("good", "Good"), new("worn", "Worn"), new("poor", "Poor")];

    /// <summary>Why a part was taken out.</summary>
    public static IReadOnlyList<Choice> Reasons { get; } =
    [
        new(string.Empty, "Stays in"), new("failed", "Failed now"), new("found_failed", "Found failed"), new("precaution", "As a precaution"),
        new("upgrade", "For a better one"),
    ];

    /// <summary>How a visit ended.</summary>
    public static IReadOnlyList<Choice> Outcomes { get; } =
    [
        new("proven", "Repaired and proven"), new("repaired_not_proven", "Repaired, not proven"), new("waiting_part", "Waits for a part"),
        new("waiting_approval", "Waits for an approval"), new("no_fault_found", "No fault found"),
    ];

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
    public static string Hazard(string hazard) => hazard switch
    {
        "electric" => "live parts",
        "hot" => "hot surfaces and steam",
        "caustic" => "caustic detergent",
        "compressed_gas" => "compressed gas",
        "moving" => "moving parts",
        _ => Text.Words(hazard).ToLowerInvariant(),
    };

    /// <summary>An outcome in words.</summary>
    /// <param name="outcome">The outcome; null: nobody said.</param>
    /// <returns>A few words without a full stop.</returns>
    public static string Outcome(VisitOutcome? outcome) => outcome switch
    {
        VisitOutcome.Proven => "Repaired and proven",
        VisitOutcome.RepairedNotProven => "Repaired, not proven",
        VisitOutcome.WaitingApproval => "Waits for an approval",
        VisitOutcome.WaitingPart => "Waits for a part",
        VisitOutcome.NoFaultFound => "No fault found",
        null => "Nobody said how it ended",
        _ => throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "An outcome without words."),
    };
}
