using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Units;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Timeline;

/// <summary>Turns records into entries: lockouts into stories, ordinary washes in a row into one line.</summary>
internal static class TimelineEntries
{
    private static readonly TimelineKind[] OfStories = [TimelineKind.Faults, TimelineKind.Visits, TimelineKind.Parts, TimelineKind.Approvals];

    /// <summary>The lockouts that can be told, where all kinds that belong to one were asked for.</summary>
    /// <param name="records">The records, newest first.</param>
    /// <param name="kinds">The kinds that were asked for.</param>
    /// <param name="asOf">The instant.</param>
    public static IReadOnlyList<Story> StoriesOf(IReadOnlyList<TimelineRecord> records, IReadOnlyList<TimelineKind> kinds, DateTimeOffset asOf) =>
        OfStories.All(kinds.Contains)
            ?
            [
                .. records.GroupBy(record => record.Unit.Unit.Id)
                    .SelectMany(unit => Stories.Of([.. unit.OrderBy(record => record.At).ThenBy(record => record.Row.Seq)], asOf)),
            ]
            : [];

    /// <summary>The entries, newest first.</summary>
    /// <param name="records">The records of the page, newest first.</param>
    /// <param name="stories">Lockouts of which every record is among them.</param>
    /// <param name="kinds">The kinds that were asked for.</param>
    /// <param name="asOf">The instant.</param>
    public static IReadOnlyList<TimelineEntry> Of(
        IReadOnlyList<TimelineRecord> records, IReadOnlyList<Story> stories, IReadOnlyList<TimelineKind> kinds, DateTimeOffset asOf)
    {
        HashSet<long> told = [.. stories.SelectMany(story => story.Members).Select(member => member.Row.Seq)];
        (DateTimeOffset At, long Seq, TimelineEntry Entry, TimelineRecord? Ordinary)[] all =
        [
            .. records.Where(record => !told.Contains(record.Row.Seq)).Select(record => (record.At, record.Row.Seq, Single(record), record.IsOrdinary ? record : null)),
            .. stories.Select(story => (Tell(story, kinds.Contains(TimelineKind.Washes), asOf), story))
                .Select(pair => (pair.Item1.To, pair.story.Members[^1].Row.Seq, pair.Item1, (TimelineRecord?)null)),
        ];
        return [.. Fold([.. all.OrderByDescending(one => one.At).ThenByDescending(one => one.Seq)])];
    }

    private static IEnumerable<TimelineEntry> Fold((DateTimeOffset At, long Seq, TimelineEntry Entry, TimelineRecord? Ordinary)[] all)
    {
        for (int i = 0; i < all.Length;)
        {
            int first = i;
            while (i < all.Length && all[i].Ordinary is not null)
            {
                i++;
            }

            if (i - first > 1)
            {
                yield return Folded([.. all[first..i].Select(one => one.Ordinary!)]);
            }
            else
            {
                i = first + 1;
                yield return all[first].Entry;
            }
        }
    }

    private static TimelineEntry Single(TimelineRecord record)
    {
        TimelineStep step = record.ToStep();
        SiteEntry site = record.Unit.Unit.Site;
        return new TimelineEntry(
            record.Kind, record.At, record.At, record.Unit.Unit.Resource.Unit, site.Resource.Site, site.Resource.Name,
            step.Voided ? step.Correction + " " + step.Text : step.Correction is null ? step.Text : step.Text + " " + step.Correction, false, [step]);
    }

    private static TimelineEntry Folded(TimelineRecord[] washes)
    {
        int units = washes.Select(wash => wash.Unit.Unit.Id).Distinct().Count();
        SiteEntry? site = washes.Select(wash => wash.Unit.Unit.Site).Distinct().Take(2).ToArray() is [var only] ? only : null;
        return new TimelineEntry(
            TimelineKind.Washes, washes[^1].At, washes[0].At, units == 1 ? washes[0].Unit.Unit.Resource.Unit : null, site?.Resource.Site, site?.Resource.Name,
            TimelineWords.Folded(washes.Length, units, washes.Count(wash => wash.Wash == WashDayKind.Counted), washes.Count(wash => wash.Wash == WashDayKind.LowerGrade)), false, [.. washes.Select(wash => wash.ToStep())]);
    }

    private static TimelineEntry Tell(Story story, bool washesKnown, DateTimeOffset asOf)
    {
        UnitTerms unit = story.Members[0].Unit;
        ModelEntry model = unit.Unit.Model;
        TimelineRecord[] visits = [.. story.Members.Where(member => member.Row.Type == "visit")];
        TimelineRecord[] approvals = [.. story.Members.Where(member => member.Row.Type == "approval" && member.Row.Voided == 0)];
        int Decided(ApprovalDecision decision) =>
            approvals.Count(one => one.Row.Decision is { } word && EnumText<ApprovalDecision>.Parse(word) == decision);
        var facts = new StoryFacts(
            [.. story.Members.Where(member => member.Row.Type == "fault").Select(fault => Named(model, fault.Row.Code!)).Distinct(StringComparer.Ordinal)],
            ((story.ClearedAt ?? asOf) - story.RaisedAt).TotalHours,
            story.ClearedAt is not null,
            story.Members.Count(member => member.Outcome is not null && member.Row.AttestedBy is null && !ReferenceEquals(member, story.Proof)),
            visits.Count(visit => visit.Row.ArrivedMs is not null || visit.Row.LeftMs is not null),
            visits.Length > 0,
            Decided(ApprovalDecision.Granted),
            Decided(ApprovalDecision.Refused),
            approvals.Count(one => one.Row.Decision is null),
            [.. story.Members.Where(member => member.Row.Type == "part_change").Select(part => RecordTexts.Position(model, part.Row.Position!)).Distinct(StringComparer.Ordinal)],
            story.Proof is null ? null : story.Proof.Outcome == WashOutcome.Completed,
            story.Proof is { } proof && story.ClearedAt is { } cleared ? Math.Max(0, (proof.At - cleared).TotalHours) : null,
            visits.Any(visit => visit.Row.Outcome is { } word && EnumText<VisitOutcome>.Parse(word) == VisitOutcome.Proven),
            washesKnown);
        DateTimeOffset end = story.Members.Max(member => member.Until);
        return new TimelineEntry(
            TimelineKind.Faults, story.Members[0].At, story.ClearedAt is null ? asOf : end, unit.Unit.Resource.Unit, unit.Unit.Site.Resource.Site,
            unit.Unit.Site.Resource.Name, StorySentences.Of(facts), true, [.. story.Members.OrderBy(member => member.At).Select(member => member.ToStep())]);
    }

    private static string Named(ModelEntry model, string code) =>
        RecordTexts.Meaning(model, code) is { } meaning ? code + ", " + Text.Uncapital(meaning).TrimEnd('.') : code;
}
