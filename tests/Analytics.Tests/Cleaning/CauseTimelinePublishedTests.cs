using System.Text.Json;
using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>
/// The three cases that were worked by hand, computed minute by minute in R and by intervals in Python before this code existed
/// (expected.json, compliance.*). Instants and minutes are exact.
/// </summary>
public sealed class CauseTimelinePublishedTests
{
    public static TheoryData<string> Cases => ["compliance.simple", "compliance.clock_change", "compliance.lockout_and_silence"];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_obligation_agrees(string id)
    {
        (ComplianceCase worked, CleaningTimeline result) = Run(id);
        JsonElement[] expected = [.. worked.Check.Value("obligations").EnumerateArray()];

        Assert.Equal(expected.Length, result.Obligations.Count);
        foreach ((JsonElement e, Obligation o) in expected.Zip(result.Obligations))
        {
            Assert.Equal(e.GetProperty("day").GetString(), o.Day.ToString("uuuu-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
            Assert.Equal(When(e, "due"), o.Due);
            Assert.Equal(When(e, "deadline"), o.Deadline);
            Assert.Equal(e.GetProperty("result").GetString(), ComplianceCase.Name(o.Result));
            Assert.Equal(When(e, "credited_wash_ended"), o.CreditedWashEnd);
            Assert.Equal(When(e, "closed_at"), o.ClosedAt);
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_span_agrees_to_the_minute(string id)
    {
        (ComplianceCase worked, CleaningTimeline result) = Run(id);

        Assert.Equal(
            worked.Check.Value("segments").EnumerateArray().Select(e => (When(e, "from"), When(e, "to"), e.GetProperty("state").GetString())),
            result.Spans.Select(s => ((Instant?)s.From, (Instant?)s.To, (string?)ComplianceCase.Name(s.Cause))));
        Assert.Equal(
            worked.Check.Value("minutes_by_cause").EnumerateObject().Select(p => (p.Name, (double)p.Value.GetInt32())).Order(),
            result.Summary.ByCause.Select(p => (ComplianceCase.Name(p.Key), p.Value.TotalMinutes)).Order());
        Assert.Equal(
            worked.Check.Value("window_minutes").GetInt32(), result.Summary.ByCause.Values.Sum(d => d.TotalMinutes));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Shares_and_gaps_agree(string id)
    {
        (ComplianceCase worked, CleaningTimeline result) = Run(id);
        CleaningSummary summary = result.Summary;

        Assert.Equal(worked.Check.Value("due").GetInt32(), summary.Due);
        Assert.Equal(worked.Check.Value("on_time").GetInt32(), summary.OnTime);
        Assert.Equal(worked.Check.Value("unknown").GetInt32(), summary.Unknown);
        Assert.Equal(worked.Check.Value("excused").GetInt32(), summary.Excused);
        Assert.Equal(worked.Check.Value("judged_minutes").GetInt32(), summary.Judged.TotalMinutes);
        worked.Check.AssertClose(summary.OnTimeShare, "on_time_share");
        worked.Check.AssertClose(summary.TimeWithinShare, "time_within_share");
        worked.Check.AssertClose(summary.Overdue.TotalHours, "overdue_hours");
        worked.Check.AssertClose(summary.LongestGap.Elapsed.TotalHours, "longest_gap_hours");
        worked.Check.AssertClose(summary.LongestGapInService.InService.TotalHours, "longest_gap_less_closed_and_out_of_service_hours");
        worked.Check.AssertAllClose(result.Gaps.Select(g => g.Elapsed.TotalMinutes), "gaps_minutes");
        Assert.Equal(
            worked.Check.Value("hours_by_cause").EnumerateObject().Select(p => p.Name).Order(),
            summary.HoursByCause.Keys.Select(ComplianceCase.Name).Order());
        foreach (KeyValuePair<Cause, double> hours in summary.HoursByCause)
        {
            worked.Check.AssertClose(hours.Value, "hours_by_cause", ComplianceCase.Name(hours.Key));
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_order_of_the_records_does_not_matter(string id)
    {
        ComplianceCase worked = new(id);
        UnitHistory reversed = worked.History with
        {
            Washes = [.. worked.History.Washes.Reverse()],
            HeardAt = [.. worked.History.HeardAt.Reverse()],
            Faults = [.. worked.History.Faults.Reverse()],
            Visits = [.. worked.History.Visits.Reverse()],
        };

        CleaningTimeline result = CauseTimeline.Compute(worked.Rule, worked.Calendar, reversed, worked.Window);

        Assert.Equal(Run(id).Result.Spans, result.Spans);
        Assert.Equal(Run(id).Result.Obligations, result.Obligations);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_status_at_an_instant_agrees_with_the_timeline(string id)
    {
        (ComplianceCase worked, CleaningTimeline result) = Run(id);
        foreach (CauseSpan span in result.Spans.Skip(1))
        {
            foreach (Instant at in new[] { span.From, span.To - Duration.FromMinutes(1) })
            {
                CleaningStatus status = CauseTimeline.At(worked.Rule, worked.Calendar, worked.History, at);
                Assert.Equal((span.Cause, (Instant?)span.From), (status.Cause, status.Since));
            }
        }
    }

    private static Instant? When(JsonElement element, string name) =>
        element.GetProperty(name) is { ValueKind: JsonValueKind.String } text ? ComplianceCase.At(text.GetString()!) : null;

    private static (ComplianceCase Worked, CleaningTimeline Result) Run(string id)
    {
        ComplianceCase worked = new(id);
        return (worked, CauseTimeline.Compute(worked.Rule, worked.Calendar, worked.History, worked.Window));
    }
}
