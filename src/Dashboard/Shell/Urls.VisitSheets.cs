using System.Globalization;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Dashboard.Shell;

/// <content>Links of visit sheets.</content>
public static partial class Urls
{
    /// <summary>Route of a unit's visit sheet.</summary>
    public const string VisitSheetRoute = "/units/{unit}/visit-sheet";

    /// <summary>A unit's visit sheet.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="question">What is asked of it; null: as it opens.</param>
    /// <returns>The address.</returns>
    public static string VisitSheet(string unit, SheetQuestion? question = null) =>
        Query(Fill(VisitSheetRoute, unit), Pairs(question ?? SheetQuestion.Usual));

    /// <summary>A unit's visit sheet as JSON.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="question">What is asked of it.</param>
    /// <returns>The address.</returns>
    public static string VisitSheetData(string unit, SheetQuestion question) => Query(Fill("/v1/units/{unit}/visit-sheet", unit), Pairs(question));

    private static (string Name, string? Value)[] Pairs(SheetQuestion question)
    {
        ArgumentNullException.ThrowIfNull(question);
        return
        [
            ("fault", question.Fault),
            .. Pairs(question.Results),
            ("certainty", question.Certainty == SheetQuestion.UsualCertainty ? null : question.Certainty.ToString("R", CultureInfo.InvariantCulture)),
        ];
    }

    private static IEnumerable<(string Name, string? Value)> Pairs(IReadOnlyList<CheckAnswer> results) =>
        results.Select(result => ("result", (string?)(result.Check + ":" + Snake(result.Result.ToString()))));
}
