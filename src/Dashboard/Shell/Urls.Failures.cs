using System.Globalization;
using Washwear.Dashboard.Failures;

namespace Washwear.Dashboard.Shell;

/// <content>Links of failures.</content>
public static partial class Urls
{
    /// <summary>Route of the failures page.</summary>
    public const string FailuresRoute = "/failures";

    /// <summary>Route of the failures behind the figures.</summary>
    public const string FailureRecordsRoute = "/failures/records";

    /// <summary>Route of a chart of failures; the name is monthly, recurrence, rates or pareto.</summary>
    public const string FailureChartRoute = "/charts/failures/{name}.{format}";

    /// <summary>The failures page as a reader chose it.</summary>
    /// <param name="choice">The choice; null: as it opens.</param>
    /// <returns>The address.</returns>
    public static string Failures(FailureChoice? choice = null) => Query(FailuresRoute, Pairs(choice ?? new FailureChoice()));

    /// <summary>A section of the failures page as a reader chose it.</summary>
    /// <param name="choice">The choice.</param>
    /// <param name="section">Id of the section, such as rates.</param>
    /// <returns>The address.</returns>
    public static string Failures(FailureChoice choice, string section) => Failures(choice) + "#" + Uri.EscapeDataString(section);

    /// <summary>The failures behind the figures.</summary>
    /// <param name="choice">The choice.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string FailureRecords(FailureChoice choice, string? after = null) =>
        Query(FailureRecordsRoute, [.. Pairs(choice), ("after", after)]);

    /// <summary>Figures of failures as JSON or as comma-separated values.</summary>
    /// <param name="part">trend, recurrence, rates, repeats, pareto or records.</param>
    /// <param name="choice">The choice.</param>
    /// <param name="format">json or csv.</param>
    /// <returns>The address.</returns>
    public static string FailureData(string part, FailureChoice choice, string format) =>
        Query(Fill("/v1/failures/{part}", part), [.. Pairs(choice), ("format", format == "json" ? null : format)]);

    /// <summary>A chart of failures.</summary>
    /// <param name="name">monthly, recurrence, rates or pareto.</param>
    /// <param name="choice">The choice.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string FailureChart(string name, FailureChoice choice, string format) =>
        Query(Fill(FailureChartRoute, name, format), Pairs(choice));

    private static (string Name, string? Value)[] Pairs(FailureChoice choice)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return
        [
            ("of", choice.Of == FailureKind.Faults ? null : Snake(choice.Of.ToString())),
            ("from", Instant(choice.From)), ("to", Instant(choice.To)),
            ("operator", choice.Operator), ("site", choice.Site), ("model", choice.Model), ("unit", choice.Unit),
            ("position", choice.Position), ("code", choice.Code),
            ("by", choice.By == RateGroup.Unit ? null : Snake(choice.By.ToString())),
            ("pareto", choice.Pareto == ParetoGroup.Position ? null : Snake(choice.Pareto.ToString())),
            ("measure", choice.Measure == ParetoMeasure.Count ? null : Snake(choice.Measure.ToString())),
            ("axis", choice.Axis == RecurrenceAxis.Age ? null : Snake(choice.Axis.ToString())),
            ("compare", choice.Compare),
            ("gap_hours", choice.GapHours == FailureChoice.UsualGapHours ? null : Plain(choice.GapHours)),
            ("window_days", choice.WindowDays == FailureChoice.UsualWindowDays ? null : choice.WindowDays.ToString(CultureInfo.InvariantCulture)),
        ];
    }

    private static string? Instant(DateTimeOffset? at) =>
        at?.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
