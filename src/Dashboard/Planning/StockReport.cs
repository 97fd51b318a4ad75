using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>How many of a part number to keep at a stock point.</summary>
/// <param name="StockPoint">Code of the stock point; null: sites that name none.</param>
/// <param name="StockPointName">Name of the stock point.</param>
/// <param name="PartNumber">The part number.</param>
/// <param name="PartName">Its name.</param>
/// <param name="Parts">Fitted parts that would be replaced by it.</param>
/// <param name="PartsWithoutChance">Of these, how many have no known chance to fail; they are not in the figures.</param>
/// <param name="Supplier">Code of its supplier; null: not told.</param>
/// <param name="LeadTimeDays">Days over which the stock must last: the supplier's longest lead time; null: not told, nothing is reckoned.</param>
/// <param name="Expected">Failures to be expected over that time.</param>
/// <param name="Planned">Planned replacements that fall into that time; they are known, and are added.</param>
/// <param name="ServiceLevel">Chance that the stock lasts that is asked for.</param>
/// <param name="SmallestStock">Smallest stock with at least that chance, planned replacements included; null: it cannot be told.</param>
/// <param name="ChanceItLasts">Chance that this stock lasts.</param>
/// <param name="OnHand">How many lie there; null: not told.</param>
/// <param name="OrderNow">How many to order now; null: what lies there is not told.</param>
/// <param name="OrderCost">What that costs; null: no price is told.</param>
/// <param name="ChanceOnHandLasts">Chance that what lies there lasts; null: not told.</param>
/// <param name="Sentence">The finding in a sentence.</param>
public sealed record StockRow(
    string? StockPoint,
    string? StockPointName,
    string PartNumber,
    string PartName,
    int Parts,
    int PartsWithoutChance,
    string? Supplier,
    double? LeadTimeDays,
    double? Expected,
    int Planned,
    double ServiceLevel,
    int? SmallestStock,
    double? ChanceItLasts,
    int? OnHand,
    int? OrderNow,
    double? OrderCost,
    double? ChanceOnHandLasts,
    string Sentence);

/// <summary>What to stock, and what to order now.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Currency">Currency of all money; null: not told.</param>
/// <param name="ToOrder">How many part numbers, over all stock points asked for, are short.</param>
/// <param name="Rows">By stock point, what is to be ordered first.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record StockReport(Basis Basis, string Sentence, string? Currency, int ToOrder, IReadOnlyList<StockRow> Rows, string? Next);
