using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>By what a forecast of failures is split.</summary>
public enum ForecastBy
{
    /// <summary>By part number to order.</summary>
    PartNumber,

    /// <summary>By site.</summary>
    Site,

    /// <summary>By stock point.</summary>
    StockPoint,

    /// <summary>By calendar month, in the order of time.</summary>
    Month,
}

/// <summary>How many failures are to be expected of some parts.</summary>
/// <param name="Key">Code of the group, or its month as yyyy-MM.</param>
/// <param name="Name">Name of the group.</param>
/// <param name="Parts">Fitted parts whose chance can be told.</param>
/// <param name="PartsWithoutChance">Fitted parts of the group whose chance cannot be told; they are not in the figures.</param>
/// <param name="Expected">Failures to be expected.</param>
/// <param name="Lower">Fewest failures of the prediction interval.</param>
/// <param name="Upper">Most failures of the prediction interval.</param>
public sealed record ForecastRow(string Key, string Name, int Parts, int PartsWithoutChance, double Expected, int Lower, int Upper);

/// <summary>Failures to be expected.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Days">Days ahead.</param>
/// <param name="By">By what the rows are split.</param>
/// <param name="Level">Chance that the number of failures lies in the prediction interval, at least.</param>
/// <param name="Total">All parts that were asked for.</param>
/// <param name="Rows">The groups of this page, most failures first; months in the order of time.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record FailureForecastReport(
    Basis Basis, string Sentence, int Days, ForecastBy By, double Level, ForecastRow Total, IReadOnlyList<ForecastRow> Rows, string? Next);
