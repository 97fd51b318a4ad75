using System.Text.Json.Serialization;
using Washwear.Analytics.Diagnosis;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>What the fault is likely to come from, and what to do next.</summary>
/// <param name="Stage">check_next: there is a check to do; certain: the certainty is reached; not_certain: no check could tell
/// more.</param>
/// <param name="Sentence">What is most likely and what to do next, in words.</param>
/// <param name="Certainty">Probability at which no further check is proposed.</param>
/// <param name="Reached">Probability of the most likely causes that the checks can tell from the others.</param>
/// <param name="NextCheck">Code of the check to do next; null: none.</param>
/// <param name="ExpectedMinutes">Mean minutes from now until the fault is mended or left for a second visit, checks and repairs
/// included.</param>
/// <param name="MinutesSpent">Minutes of the checks told so far, those of earlier visits left out.</param>
/// <param name="Visits">Closed visits of the fleet for this fault that told what they found.</param>
/// <param name="VisitsWithoutFinding">Closed visits of the fleet for this fault that told nothing.</param>
/// <param name="Causes">The causes, the most likely first, with 'something else'.</param>
/// <param name="Earlier">What visits told that left this fault open, in words, oldest first; it is part of the probabilities.</param>
/// <param name="Contradicting">Codes of checks whose result no cause could give after the others; they were left aside.</param>
public sealed record SheetDiagnosis(
    DiagnosisStage Stage,
    string Sentence,
    double Certainty,
    double Reached,
    string? NextCheck,
    double ExpectedMinutes,
    double MinutesSpent,
    int Visits,
    int VisitsWithoutFinding,
    IReadOnlyList<SheetCause> Causes,
    IReadOnlyList<string> Earlier,
    IReadOnlyList<string> Contradicting);

/// <summary>A likely cause.</summary>
/// <param name="Position">Code of the position at fault; null: something else, which the catalogue does not name.</param>
/// <param name="Name">Position and failure mode in words.</param>
/// <param name="FailureMode">How it fails, as the catalogue says.</param>
/// <param name="Cause">Why it fails, as the catalogue says.</param>
/// <param name="Probability">Probability that it is the cause, after the results so far.</param>
/// <param name="ProbabilityBeforeChecks">Probability that it is the cause, before any check and any earlier visit of this trouble.</param>
/// <param name="CatalogueShare">Its share of the catalogue's prior weights.</param>
/// <param name="VisitsThatFoundIt">Closed visits of the fleet for this fault that found it.</param>
/// <param name="ShareBeforeAge">Its share by catalogue and visits together, before the age of the fitted part.</param>
/// <param name="HazardFactor">What the age of the fitted part multiplies it by; 1 where nothing is known of its life or age.</param>
/// <param name="Sentence">Why it is that likely.</param>
public sealed record SheetCause(
    string? Position,
    string Name,
    string? FailureMode,
    string? Cause,
    double Probability,
    double ProbabilityBeforeChecks,
    double CatalogueShare,
    int VisitsThatFoundIt,
    double ShareBeforeAge,
    double HazardFactor,
    string Sentence);

/// <summary>A diagnostic step.</summary>
/// <param name="Check">Its code.</param>
/// <param name="Text">What to do.</param>
/// <param name="Minutes">Minutes it takes.</param>
/// <param name="Positions">Names of the positions it speaks of.</param>
/// <param name="Hazards">Hazards it brings.</param>
/// <param name="Result">How it went; null: nothing was told of it yet.</param>
/// <param name="Needed">Whether it is to be done if all checks before it pass; false: only where these do not settle it.</param>
/// <param name="ChanceToFail">Chance that it fails, by the probabilities now; null: it is done, or nothing is known of the causes.</param>
/// <param name="IfItFails">What a fail would say.</param>
/// <param name="IfItPasses">What a pass would say.</param>
public sealed record SheetCheck(
    string Check,
    string Text,
    double Minutes,
    IReadOnlyList<string> Positions,
    IReadOnlyList<string> Hazards,
    SheetResult? Result,
    bool Needed,
    double? ChanceToFail,
    string? IfItFails,
    string? IfItPasses)
{
    /// <summary>When it was done, where an earlier visit did it and nobody told a result since; null: nothing is told, or it was
    /// now.</summary>
    public DateTimeOffset? DoneAt { get; init; }
}

/// <summary>What to take along.</summary>
/// <param name="Sentence">What the parts cover, in words.</param>
/// <param name="Level">Chance of having all that is needed along that was asked for.</param>
/// <param name="Covered">Chance that these parts, or none, are all that is needed; null: nothing is known of the causes.</param>
/// <param name="Parts">The fewest parts that reach the level, the most likely to be needed first.</param>
/// <param name="Worth">Parts worth swapping while the unit is open: companions that are worn or likely to fail soon, and what earlier
/// visits
/// recommended.</param>
/// <param name="WorthChance">Chance to fail within 180 days from which a companion is worth it.</param>
public sealed record SheetParts(
    string Sentence, double Level, double? Covered, IReadOnlyList<PartToBring> Parts, IReadOnlyList<PartWorthSwapping> Worth,
        double WorthChance);

/// <summary>A part to bring.</summary>
/// <param name="Position">Code of its position.</param>
/// <param name="Name">Name of its position.</param>
/// <param name="PartNumber">Part number: that of the fitted part, else the first that fits; null: none is on record.</param>
/// <param name="ChanceNeeded">Chance that it is needed.</param>
public sealed record PartToBring(string Position, string Name, string? PartNumber, double ChanceNeeded);

/// <summary>A part worth swapping while the unit is open.</summary>
/// <param name="Position">Code of its position.</param>
/// <param name="Name">Name of its position.</param>
/// <param name="PartNumber">Part number, as of a part to bring.</param>
/// <param name="WhileOpen">Code of the position that is opened anyway; null: none.</param>
/// <param name="ChanceToFail180Days">Chance that the fitted one fails within 180 days; null where it cannot be told.</param>
/// <param name="Why">Why it is worth it, in words.</param>
public sealed record PartWorthSwapping(
    string Position, string Name, string? PartNumber, string? WhileOpen,
    [property: JsonPropertyName("chance_to_fail_180_days")] double? ChanceToFail180Days, string Why);
