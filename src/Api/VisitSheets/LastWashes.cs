using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Dashboard.Units;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>The last washes of a unit in words, refusals in a row told as one.</summary>
internal static class LastWashes
{
    /// <summary>How many records are read: enough to see the washes behind a week of refusals.</summary>
    public const int Read = 60;

    private const int Shown = 8;

    /// <summary>The last washes, newest first.</summary>
    /// <param name="newestFirst">The records.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    public static IReadOnlyList<SheetWash> Of(IReadOnlyList<WashOfUnit> newestFirst, string timeZone)
    {
        var told = new List<SheetWash>();
        for (int i = 0; i < newestFirst.Count && told.Count < Shown;)
        {
            int refused = 0;
            while (i + refused < newestFirst.Count && Outcome(newestFirst[i + refused]) == WashOutcome.Refused)
            {
                refused++;
            }

            told.Add(refused > 1 ? Refusals(newestFirst[i], refused, newestFirst[i + refused - 1], timeZone) : One(newestFirst[i]));
            i += Math.Max(1, refused);
        }

        return told;
    }

    private static SheetWash Refusals(WashOfUnit last, int times, WashOfUnit first, string timeZone) => new(
        last.StartedAt, WashOutcome.Refused, times, VisitSheetSentences.Refusals(times, first.StartedAt, last.FaultCode, timeZone));

    private static SheetWash One(WashOfUnit wash) => new(
        wash.StartedAt,
        Outcome(wash),
        1,
        HistorySentences.Wash(
            wash.Programme,
            Outcome(wash),
            (wash.EndedAt - wash.StartedAt)?.TotalMinutes,
            wash.FaultCode,
            wash.DetergentLeft is { } left ? left != 0 : null,
            wash.AttestedBy));

    private static WashOutcome Outcome(WashOfUnit wash) => EnumText<WashOutcome>.Parse(wash.Outcome);
}
