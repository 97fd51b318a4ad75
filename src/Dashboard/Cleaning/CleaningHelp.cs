using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>What the figures of cleaning mean, two plain sentences each, the second with an example from the reader's own data.</summary>
internal static class CleaningHelp
{
    private static CleaningHelpTexts Texts => CleaningTexts.Now.Help;

    /// <summary>Of early signs.</summary>
    /// <param name="report">The signs.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfSigns(EarlySignsReport report)
    {
        if (report.Rows.Count == 0)
        {
            return [];
        }

        UnitSign row = report.Rows[0];
        (string, string) unit = ("unit", row.Unit);
        return
        [
            (EarlySignTexts.Now.Sign, Fill.In(Texts.Sign, unit, ("date", Text.Date(row.Sign.CalledAt, row.TimeZone)))),
            (EarlySignTexts.Now.FalseAlarms, Fill.In(Texts.FalseAlarms, unit, ("rate", EarlySignSentences.FalseAlarms(row.Sign)))),
        ];
    }

    /// <summary>Of the change over some weeks.</summary>
    /// <param name="report">The weeks.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfTrend(TrendReport report)
    {
        if (report.Change is not { Lower: { } lower, Upper: { } upper } change)
        {
            return [];
        }

        string text = lower <= 0 && upper >= 0 ? Texts.ChangeByChance : Texts.ChangeBeyondChance;
        return [(Texts.ChangeName, Fill.In(text, ("points", Text.Points(change.Value)), ("lower", Text.Points(lower)), ("upper", Text.Points(upper))))];
    }

    /// <summary>Of how well washes were kept.</summary>
    /// <param name="report">The shares.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfCompliance(ComplianceReport report)
    {
        var lines = new List<(string, string)>();
        ComplianceRow total = report.Total;
        if (total.OnTimeShare is { } share)
        {
            lines.Add((ComplianceTexts.Now.Table.OnTime, Fill.In(
                Texts.OnTime, ("on_time", Text.Count(total.OnTime)), ("due", Text.Count(total.Due)), ("share", Text.Share(share.Value)))));
        }

        if (ComplianceChart.Drawn(report) is [{ OnTimeShare: { Lower: { } lower, Upper: { } upper } } row, ..])
        {
            lines.Add((Texts.BoundsName, Fill.In(
                Texts.Bounds, ("name", row.Name), ("due", Text.Count(row.Due)), ("lower", Text.Share(lower)), ("upper", Text.Share(upper)))));
        }

        if (total.TimeWithinShare is not null)
        {
            lines.Add((ComplianceTexts.Now.Table.TimeWithin, Fill.In(Texts.TimeWithin, ("share", Text.Share(total.TimeWithinShare)))));
        }

        if (total is { LongestGapHours: { } gap, LongestGapUnit: { } unit })
        {
            lines.Add((ComplianceTexts.Now.Table.LongestGap, Fill.In(Texts.LongestGap, ("time", Text.Duration(gap)), ("unit", unit))));
        }

        return lines;
    }

    /// <summary>Of how an operator's washes were kept.</summary>
    /// <param name="name">The stretch of time in words.</param>
    /// <param name="stretch">Its figures.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfStretch(string name, WashingStretch stretch)
    {
        if (stretch.OnTimeShare is not { Lower: { } lower, Upper: { } upper } share)
        {
            return [];
        }

        var lines = new List<(string, string)>
        {
            (ComplianceTexts.Now.Table.OnTime, Fill.In(
                Texts.OnTime, ("on_time", Text.Count(stretch.OnTime)), ("due", Text.Count(stretch.Due)), ("share", Text.Share(share.Value)))),
            (Texts.BoundsName, Fill.In(Texts.BoundsOfStretch, ("name", name), ("lower", Text.Share(lower)), ("upper", Text.Share(upper)))),
        };
        if (stretch.TimeWithinShare is not null)
        {
            lines.Add((ComplianceTexts.Now.Table.TimeWithin, Fill.In(Texts.TimeWithin, ("share", Text.Share(stretch.TimeWithinShare)))));
        }

        return lines;
    }

    /// <summary>Of where the time went.</summary>
    /// <param name="total">All groups together.</param>
    public static IReadOnlyList<(string Name, string Meaning)> OfCauses(ComplianceRow total) => total.WindowHours <= 0
        ? []
        : [(Texts.HoursName, Fill.In(Texts.Hours, ("hours", Text.Number(total.WindowHours)), ("units", Text.Count(total.Units))))];
}
