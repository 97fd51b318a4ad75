using Washwear.Api.Http;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;

namespace Washwear.Api.Timeline;

/// <summary>One row of a timeline as CSV: a record and the entry that it stands in.</summary>
/// <param name="Day">The entry's day.</param>
/// <param name="Entry">The entry.</param>
/// <param name="Step">The record.</param>
public sealed record TimelineRow(DateOnly Day, TimelineEntry Entry, TimelineStep Step);

/// <summary>Columns of timelines as CSV.</summary>
public static class TimelineColumns
{
    /// <summary>The columns.</summary>
    public static IReadOnlyList<CsvColumn<TimelineRow>> All { get; } =
    [
        new("day", row => row.Day),
        new("at", row => row.Step.At),
        new("unit", row => row.Step.Unit),
        new("kind", row => Urls.KindCode(row.Step.Kind)),
        new("text", row => row.Step.Text),
        new("correction", row => row.Step.Correction),
        new("voided", row => row.Step.Voided),
        new("story", row => row.Entry.IsStory ? row.Entry.Text : null),
        new("story_from", row => row.Entry.IsStory ? row.Entry.From : null),
        new("type", row => row.Step.Type),
        new("source", row => row.Step.Source),
        new("key", row => row.Step.Key),
        new("seq", row => row.Step.Seq),
    ];

    /// <summary>The rows of a timeline, newest first.</summary>
    /// <param name="report">The timeline.</param>
    public static IEnumerable<TimelineRow> RowsOf(TimelineReport report) =>
        report.Days.SelectMany(day => day.Entries.SelectMany(entry => entry.Steps.Select(step => new TimelineRow(day.Day, entry, step))));
}
