using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Whether a part is worth swapping while the unit is open for another.</summary>
/// <param name="Model">Code of the model.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="Opened">Code of the position that the unit is opened for.</param>
/// <param name="OpenedName">Its name.</param>
/// <param name="Companion">Code of the position that can be swapped along.</param>
/// <param name="CompanionName">Its name.</param>
/// <param name="Units">Units of the model in service.</param>
/// <param name="Clock">What the companion's age is counted in.</param>
/// <param name="SwapPastAge">Age past which swapping it along is cheaper; null: never, or it cannot be told.</param>
/// <param name="SwapPastDays">The same in days at the fleet's usual pace.</param>
/// <param name="OpeningsPerYear">How often a year a unit is opened at the first position.</param>
/// <param name="OpeningsFrom">What that is counted from, in words.</param>
/// <param name="SharedMinutes">Minutes that swapping along takes.</param>
/// <param name="SavingFiveYears">Money saved over five years by one unit that swaps along, by simulation; null: none, or not told.</param>
/// <param name="SavingStandardError">Standard error of that simulation.</param>
/// <param name="UnwashedDaysSavedFiveYears">Days without a wash that are saved over five years by one unit, by the same simulation.</param>
/// <param name="PastAgeNow">Units whose companion is past that age now.</param>
/// <param name="Sentence">The finding in a sentence.</param>
/// <param name="NotPlanned">Why nothing can be said; null: something can.</param>
public sealed record CompanionRow(
    string Model,
    string ModelName,
    string Opened,
    string OpenedName,
    string Companion,
    string CompanionName,
    int Units,
    string? Clock,
    double? SwapPastAge,
    double? SwapPastDays,
    double? OpeningsPerYear,
    string OpeningsFrom,
    double? SharedMinutes,
    double? SavingFiveYears,
    double? SavingStandardError,
    double? UnwashedDaysSavedFiveYears,
    int PastAgeNow,
    string Sentence,
    string? NotPlanned);

/// <summary>What to swap together.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Currency">Currency of all money; null: not told.</param>
/// <param name="Rows">By model, opened position and companion.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record CompanionsReport(Basis Basis, string Sentence, string? Currency, IReadOnlyList<CompanionRow> Rows, string? Next);
