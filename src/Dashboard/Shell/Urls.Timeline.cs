using Washwear.Dashboard.Timeline;

namespace Washwear.Dashboard.Shell;

/// <content>Links of timelines.</content>
public static partial class Urls
{
    /// <summary>Route of a unit's timeline.</summary>
    public const string UnitTimelineRoute = "/units/{unit}/timeline";

    /// <summary>Route of a kitchen's timeline.</summary>
    public const string SiteTimelineRoute = "/sites/{site}/timeline";

    /// <summary>Route of an operator's timeline.</summary>
    public const string OperatorTimelineRoute = "/operators/{operator}/timeline";

    /// <summary>A timeline.</summary>
    /// <param name="subject">Of what it tells.</param>
    /// <param name="code">Its code.</param>
    /// <param name="kinds">Only these kinds; null: the usual ones.</param>
    /// <param name="after">Cursor of the page wanted; null: the newest.</param>
    /// <returns>The address.</returns>
    public static string Timeline(TimelineSubject subject, string code, IReadOnlyList<TimelineKind>? kinds = null, string? after = null) =>
        Query(Fill(RouteOf(subject), code), ("kinds", Kinds(kinds)), ("after", after));

    /// <summary>A timeline as JSON or comma-separated values.</summary>
    /// <param name="subject">Of what it tells.</param>
    /// <param name="code">Its code.</param>
    /// <param name="format">json or csv.</param>
    /// <param name="kinds">Only these kinds; null: the usual ones.</param>
    /// <param name="after">Cursor of the page wanted; null: the newest.</param>
    /// <returns>The address.</returns>
    public static string TimelineData(
        TimelineSubject subject, string code, string format, IReadOnlyList<TimelineKind>? kinds = null, string? after = null) =>
        Query(Fill("/v1" + RouteOf(subject), code), ("kinds", Kinds(kinds)), ("after", after), ("format", format == "json" ? null : format));

    /// <summary>One record as it was taken in.</summary>
    /// <param name="unit">Asset tag of its unit.</param>
    /// <param name="after">Cursor of the list of records that stands just before it.</param>
    /// <returns>The address.</returns>
    public static string Record(string unit, string after) => Query("/v1/records", ("unit", unit), ("limit", "1"), ("after", after));

    /// <summary>The code of a kind as addresses and the API spell it.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>Lower case with underscores.</returns>
    public static string KindCode(TimelineKind kind) => Snake(kind.ToString());

    private static string RouteOf(TimelineSubject subject) => subject switch
    {
        TimelineSubject.Unit => UnitTimelineRoute,
        TimelineSubject.Site => SiteTimelineRoute,
        TimelineSubject.Operator => OperatorTimelineRoute,
        _ => throw new ArgumentOutOfRangeException(nameof(subject)),
    };

    private static string? Kinds(IReadOnlyList<TimelineKind>? kinds) =>
        kinds is null ? null : string.Join(',', kinds.Select(KindCode));
}
