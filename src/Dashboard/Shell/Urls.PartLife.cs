using System.Globalization;
using Washwear.Dashboard.PartLife;

namespace Washwear.Dashboard.Shell;

/// <content>Links of part life.</content>
public static partial class Urls
{
    /// <summary>Route of the parts behind the figures.</summary>
    public const string PartLivesRoute = "/part-life/lives";

    /// <summary>Route of the survival chart of a position.</summary>
    public const string SurvivalChartRoute = "/charts/part-life/{position}/survival.{format}";

    /// <summary>Route of the probability plot of a position.</summary>
    public const string WeibullPlotRoute = "/charts/part-life/{position}/probability.{format}";

    /// <summary>Route of the chart of failure modes of a position.</summary>
    public const string IncidenceChartRoute = "/charts/part-life/{position}/modes.{format}";

    /// <summary>The part-life page of a position.</summary>
    /// <param name="position">Code of the position; null: the one with most failures.</param>
    /// <returns>The address.</returns>
    public static string PartLife(string? position = null) => Query("/part-life", ("position", position));

    /// <summary>The part-life page as a reader chose it.</summary>
    /// <param name="choice">The choice.</param>
    /// <returns>The address.</returns>
    public static string PartLife(PartLifeChoice choice)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return Query("/part-life", [("position", choice.Position), .. Pairs(choice)]);
    }

    /// <summary>The parts behind the figures.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="kind">Which of them.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <returns>The address.</returns>
    public static string PartLives(PartLifeChoice choice, LifeKind kind = LifeKind.All, string? after = null)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return Query(PartLivesRoute, [("position", choice.Position), .. LifePairs(choice, kind), ("after", after)]);
    }

    /// <summary>The parts behind the figures as comma-separated values.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="kind">Which of them.</param>
    /// <returns>The address.</returns>
    public static string PartLivesCsv(PartLifeChoice choice, LifeKind kind = LifeKind.All)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return Query(Fill("/v1/part-life/{position}/lives", choice.Position), [.. LifePairs(choice, kind), ("format", "csv")]);
    }

    /// <summary>The figures of a position as JSON, or its Kaplan–Meier steps as comma-separated values.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="format">json or csv.</param>
    /// <returns>The address.</returns>
    public static string PartLifeData(PartLifeChoice choice, string format)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return Query(
            Fill("/v1/part-life/{position}", choice.Position), [.. Pairs(choice), ("format", format == "json" ? null : format)]);
    }

    /// <summary>The failure modes of a position as JSON, or their incidence as comma-separated values.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="format">json or csv.</param>
    /// <returns>The address.</returns>
    public static string PartLifeModes(PartLifeChoice choice, string format)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return Query(
            Fill("/v1/part-life/{position}/modes", choice.Position), [.. Pairs(choice), ("format", format == "json" ? null : format)]);
    }

    /// <summary>The survival chart of a position.</summary>
    /// <param name="choice">What the reader chose.</param>
    /// <param name="format">svg or png.</param>
    /// <returns>The address.</returns>
    public static string SurvivalChart(PartLifeChoice choice, string format) => LifeChart(SurvivalChartRoute, choice, format);

    /// <summary>The probability plot of a position.</summary>
    /// <inheritdoc cref="SurvivalChart"/>
    public static string WeibullPlot(PartLifeChoice choice, string format) => LifeChart(WeibullPlotRoute, choice, format);

    /// <summary>The chart of failure modes of a position.</summary>
    /// <inheritdoc cref="SurvivalChart"/>
    public static string IncidenceChart(PartLifeChoice choice, string format) => LifeChart(IncidenceChartRoute, choice, format);

    private static string LifeChart(string route, PartLifeChoice choice, string format)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return Query(Fill(route, choice.Position, format), Pairs(choice));
    }

    private static (string Name, string? Value)[] Pairs(PartLifeChoice choice) =>
    [
        ("model", choice.Model), ("clock", choice.Clock), ("failure_mode", choice.FailureMode), ("by", choice.By), ("group", choice.Group),
        ("shape", choice.Shape is { } shape ? Plain(shape) : null),
        ("at", string.Join(',', choice.At.Select(Plain))),
        ("bounds", choice.BothBounds ? "both" : null),
        ("level", choice.Level == PartLifeChoice.UsualLevel ? null : Plain(choice.Level)),
    ];

    private static (string Name, string? Value)[] LifePairs(PartLifeChoice choice, LifeKind kind) =>
    [
        ("model", choice.Model), ("failure_mode", choice.FailureMode), ("by", choice.Group is null ? null : choice.By), ("group", choice.Group),
        ("kind", kind == LifeKind.All ? null : Snake(kind.ToString())),
    ];

    private static string Plain(double number) => number.ToString("R", CultureInfo.InvariantCulture);
}
